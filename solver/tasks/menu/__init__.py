"""Menus: which drinks to offer, so that what is dated is poured in time and the margin holds."""
