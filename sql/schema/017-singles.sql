-- Bolts that were decided of by themselves are counted in one pass for all lots, and what was said of a lot is told by one view. A record that
-- corrects none writes no index of those that do, and the grade of a verdict is found by the verdict.

DROP VIEW lot_singles;

-- How many bolts of a lot were decided of by themselves. All are counted, however few lots are asked for.
CREATE VIEW lot_singles AS
SELECT l.id AS lot, COALESCE(x.singles, 0) AS singles, COALESCE(x.released, 0) AS released,
       COALESCE(x.returned, 0) AS returned
  FROM lot l
  LEFT JOIN (SELECT n.lot, COUNT(*) AS singles, SUM(CASE WHEN n.standing = 'released' THEN 1 ELSE 0 END) AS released,
                    SUM(CASE WHEN n.standing = 'returned' THEN 1 ELSE 0 END) AS returned
               FROM bolt_standing_now n GROUP BY n.lot) x ON x.lot = l.id;

-- What the supplier said of a lot, void or not, and what was found of those words. Held metres are of the lot, or of its bolts.
CREATE VIEW lot_told AS
SELECT l.id AS lot, l.ref, l.supplier, l.supplier_name, l.arrived, l.metres, l.unit_price, l.currency, l.voided,
       CASE WHEN l.standing = 'held' THEN COALESCE(l.metres, 0.0) ELSE 0.0 END
       + COALESCE((SELECT SUM(CASE WHEN x.standing = 'held' THEN b.metres ELSE 0.0 END
                              - CASE WHEN l.standing = 'held' THEN b.metres ELSE 0.0 END)
                     FROM bolt_standing_now x JOIN bolt_now b ON b.id = x.bolt WHERE x.lot = l.id), 0.0) AS held_metres,
       s.said, s.clear, s.judged, s.judged_at, s.verdict, s.log_ratio,
       CASE WHEN s.grade = '' THEN s.detail ELSE '' END AS detail,
       s.grade, s.lowest, s.highest, s.one_look, s.against, s.analyses, s.tests
  FROM lot_whole l JOIN lot_said s ON s.lot = l.id;

DROP INDEX burn_by_replaced;
DROP INDEX bench_test_by_replaced;
CREATE INDEX burn_by_replaced ON burn (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX bench_test_by_replaced ON bench_test (replaces) WHERE replaces IS NOT NULL;
DROP INDEX verdict_grade_by_lot;
