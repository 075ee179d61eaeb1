"""Tests of the tasks package."""
