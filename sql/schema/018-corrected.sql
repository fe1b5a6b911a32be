-- What was corrected counts no more from its correction on: a verdict that rests on it is none, and goes with the hold it made.

DROP VIEW bench_void;
DROP VIEW verdict_void;

-- What of the bench of a lot is void or corrected: when it was recorded, and since when it counts no more.
CREATE VIEW bench_void AS
SELECT w.lot, b.entry AS recorded, e.since
  FROM swatch w JOIN burn b ON b.swatch = w.id JOIN burn_end e ON e.burn = b.id WHERE e.until IS NULL
UNION ALL
SELECT w.lot, t.entry AS recorded, e.since
  FROM swatch w JOIN bench_test t ON t.swatch = w.id JOIN bench_test_end e ON e.test = t.id WHERE e.until IS NULL;

-- Verdicts that rest on something that counted no more only after they were given. Most lots have nothing of the kind.
CREATE VIEW verdict_void AS
SELECT v.id, v.lot, v.entry, v.verdict FROM verdict v
 WHERE (EXISTS (SELECT 1 FROM voiding x WHERE x.lot = v.lot)
     OR EXISTS (SELECT 1 FROM swatch w JOIN burn b ON b.swatch = w.id WHERE w.lot = v.lot AND b.replaces IS NOT NULL)
     OR EXISTS (SELECT 1 FROM swatch w JOIN bench_test t ON t.swatch = w.id
                 WHERE w.lot = v.lot AND t.replaces IS NOT NULL))
   AND EXISTS (SELECT 1 FROM bench_void e WHERE e.lot = v.lot AND e.recorded <= v.entry AND e.since > v.entry);
