"""The rail over a run of panels: what comes to it, to its ends and joints, and to the panels beside one that is gone."""
