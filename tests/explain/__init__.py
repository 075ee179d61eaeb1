"""Tests of the reasons package."""
