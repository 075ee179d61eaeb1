"""Menus: which drinks to offer, so that what is dated is used in time and the margin holds."""
