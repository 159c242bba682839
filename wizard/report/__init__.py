"""The handover sheet as data, and as Markdown, HTML and plain text."""
