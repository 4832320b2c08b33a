"""What can hurt, at the moment it can: the kinds of danger in a job, and each statement once.

Data: `measures/tables/` (hazards, hazard_kinds, cautions, dusts, timbers), each with its source. Of substances the
official statements; of machines and habits common practice, marked as such. The product's own safety data sheet, the
machine's manual, local rules and licensed practice govern.
"""

from inventory.catalogue.safety.statements import (
    GOVERNS,
    MOMENTS,
    NOT_ON_FILE,
    REGULATION,
    Doing,
    Safety,
    Statement,
    safety_of,
    standing,
)

__all__ = [
    "GOVERNS",
    "MOMENTS",
    "NOT_ON_FILE",
    "REGULATION",
    "Doing",
    "Safety",
    "Statement",
    "safety_of",
    "standing",
]
