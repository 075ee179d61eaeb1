"""Tests of the mixture package."""
