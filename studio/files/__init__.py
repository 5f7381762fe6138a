"""Files that people read and send: PDFs, and photos made anew."""
