-- What was looked at of a lot and counts: the moment it was seen, and the moment that was written down.

CREATE VIEW lot_seen AS
SELECT w.lot, b.burned_at AS seen, b.recorded_at AS typed, b.entry
  FROM swatch w JOIN burn_now b ON b.swatch = w.id
UNION ALL
SELECT w.lot, t.tested_at, COALESCE(j.at, t.tested_at), t.entry
  FROM swatch w JOIN bench_test_now t ON t.swatch = w.id LEFT JOIN journal j ON j.number = t.entry;
