"""Questions that change a job: what if, which ways out, where the limits are; and the runner that asks many at once."""
