"""The commands as scripts see them: exit status, data on stdout, narration on stderr, JSON."""
