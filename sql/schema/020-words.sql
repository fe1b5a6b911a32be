-- Words that were typed by mistake count no more once they are put right: a verdict against them is none. A report that a decision
-- could rest on can be void as well.

DROP VIEW bench_void;
DROP VIEW verdict_void;

-- Words of a lot that were typed by mistake: when they were recorded, and since when they count no more. The same words said
-- once more put right those before them.
CREATE VIEW declaration_void AS
SELECT n.lot, d.entry AS recorded, n.entry AS since
  FROM declaration n JOIN declaration d ON d.id = n.replaces
 WHERE n.origin = 'slip'
UNION ALL
SELECT n.lot, p.entry AS recorded, n.entry AS since
  FROM declaration n JOIN declaration d ON d.id = n.replaces JOIN declaration p ON p.id = d.replaces
 WHERE n.origin = 'slip' AND d.text = n.text;

-- What a verdict on a lot rests on and is void or corrected: when it was recorded, and since when it counts no more.
CREATE VIEW bench_void AS
SELECT w.lot, b.entry AS recorded, e.since
  FROM swatch w JOIN burn b ON b.swatch = w.id JOIN burn_end e ON e.burn = b.id WHERE e.until IS NULL
UNION ALL
SELECT w.lot, t.entry AS recorded, e.since
  FROM swatch w JOIN bench_test t ON t.swatch = w.id JOIN bench_test_end e ON e.test = t.id WHERE e.until IS NULL
UNION ALL
SELECT d.lot, d.recorded, d.since FROM declaration_void d;

-- What a decision on a lot could rest on.
CREATE VIEW ground_void AS
SELECT v.lot, v.recorded, v.since FROM bench_void v
UNION ALL
SELECT a.lot, a.entry AS recorded, e.since
  FROM analysis a JOIN analysis_end e ON e.analysis = a.id WHERE e.until IS NULL;

-- Verdicts that rest on something that counted no more only after they were given. Most lots have nothing of the kind.
CREATE VIEW verdict_void AS
SELECT v.id, v.lot, v.entry, v.verdict FROM verdict v
 WHERE (EXISTS (SELECT 1 FROM voiding x WHERE x.lot = v.lot)
     OR EXISTS (SELECT 1 FROM declaration d WHERE d.lot = v.lot AND d.origin = 'slip')
     OR EXISTS (SELECT 1 FROM swatch w JOIN burn b ON b.swatch = w.id WHERE w.lot = v.lot AND b.replaces IS NOT NULL)
     OR EXISTS (SELECT 1 FROM swatch w JOIN bench_test t ON t.swatch = w.id
                 WHERE w.lot = v.lot AND t.replaces IS NOT NULL))
   AND EXISTS (SELECT 1 FROM bench_void e WHERE e.lot = v.lot AND e.recorded <= v.entry AND e.since > v.entry);
