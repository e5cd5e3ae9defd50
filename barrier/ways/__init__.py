"""Questions that change a job: what if, ways out, limits, a grid for a page with sliders; and the runner that asks many at once."""
