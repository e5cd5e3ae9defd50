"""What this tool never checks: a fixed list, loud on every sheet, so that *not checked* in the table means something."""

from __future__ import annotations

NEVER_CHECKED: tuple[tuple[str, str], ...] = (
    ("soft-body impact", "a person falling against the glass: the pendulum test of glass and mount together"),
    ("hard-body impact and vandalism", "a tool, a stone, a bottle, a kick at an edge"),
    ("spontaneous breakage", "nickel sulphide inclusions in toughened glass; whether it was heat soaked"),
    ("thermal breakage", "sun, shade, cold and covered edges"),
    ("what happens after breakage", "whether broken glass stays in its clamps, falls, or leaves an open edge"),
    ("the mount itself", "its post, weld, grub screw and casting: the supplier's tested rating governs"),
    ("boards and deck frame", "the push in the plane of the deck: the boards as a diaphragm, bracing, rims, and their fixings"),
    ("what carries the joists", "ledger, bearers and their posts, beyond the forces on them"),
    ("posts, foundations and the building", "whatever carries the deck"),
    ("stability of the deck", "bracing against the push on the barrier, and uplift of the whole deck"),
    ("fatigue and repeated load", "wind and crowds over years; screws that work loose"),
    ("earthquake, snow, ice and falling objects", ""),
    ("accidental load", "a vehicle, furniture against the glass, a ladder leant on it"),
    ("crowds", "beyond the row of the load table that was named"),
    ("durability", "rot, corrosion, treated timber on screws, age of liners and interlayers, beyond what a finding says"),
    ("shrinkage and creep of timber", "beyond a gap that the job states; screws wound loose by it"),
    ("workmanship", "torque of screws, split pieces, packers, plumb, liners left out, glass touching metal"),
    ("tolerances of the building", "levels, falls, bowed boards, panels out of square"),
    ("climbing and openings", "footholds, gaps, and what local rules ask of a barrier, beyond what a finding says"),
    ("gates, handrails and stairs", "hinges, latches and the rails an escape route needs"),
    ("earthing and lightning", "near a pool or a supply, metal mounts may have to be earthed"),
    ("fire", ""),
    ("lifting, transport and storage", "and edge protection while the barrier is open"),
    ("documents", "marking of the glass, certificates, permits"),
)
