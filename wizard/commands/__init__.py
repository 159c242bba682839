"""The commands without a screen: stdout is data, stderr is narration."""
