"""The terminal screens; nothing outside this package imports Textual."""
