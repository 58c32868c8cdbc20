"""The result sheets of the filled-in workbook: an Estimate in, sheets of live formulas with their answers out."""
