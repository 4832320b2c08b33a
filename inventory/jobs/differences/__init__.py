"""Why something was counted that was not expected: likely reasons, each from its own evidence."""
