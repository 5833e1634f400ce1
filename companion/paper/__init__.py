"""Paper: QR patterns and label sheets, drawn from one geometry for the page and for the PDF."""
