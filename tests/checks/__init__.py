"""Tests of checks, a module for each noun."""
