"""The real program over lines that break, stall and lose their terminal."""
