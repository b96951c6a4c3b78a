"""Photographs of plots: rectified, corrected, and read as cover and colour."""
