"""The pictures of the sheet, drawn to scale from the job and its result; each is plain SVG without outside references."""
