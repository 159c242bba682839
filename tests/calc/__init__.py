"""Tests of formulas, a module for each noun."""
