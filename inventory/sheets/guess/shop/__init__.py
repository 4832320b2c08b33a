"""Our own tabs out of what was understood, as a workbook and back."""
