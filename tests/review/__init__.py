"""Tests of what a lead uses."""
