"""Tests of the handover sheet."""
