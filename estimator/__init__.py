"""From a workbook of cabinets to a quote, shop papers and the way to band the edges."""

__version__ = "0.1.0"
