"""Import and export as CSV and XLSX."""
