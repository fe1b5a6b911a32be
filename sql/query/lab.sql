-- What laboratories found.

-- name: analysis_add
-- in:   $1 id, $2 lot, $3 declaration or NULL, $4 part, $5 laboratory, $6 report, $7 route, $8 methods, $9 found,
--       $10 u, $11 answers, $12 detail, $13 analysed_on, $14 recorded_at, $15 recorded_by, $16 replaces or NULL,
--       $17 entry
-- fact: analysis
INSERT INTO analysis (id, lot, declaration, part, laboratory, report, route, methods, found, u, answers, detail,
                      analysed_on, recorded_at, recorded_by, replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17);

-- name: analysis_of_lot
-- in:   $1 lot id
-- out:  id text, lot text, declaration text, part text, laboratory text, report text, route text, methods text, found text, u number, answers text, detail text, analysed_on text, recorded_at text, recorded_by text, replaces text, declared text
SELECT a.id, a.lot, a.declaration, a.part, a.laboratory, a.report, a.route, a.methods, a.found, a.u, a.answers,
       a.detail, a.analysed_on, a.recorded_at, p.name AS recorded_by, a.replaces, COALESCE(d.text, '') AS declared
  FROM analysis_now a JOIN person p ON p.id = a.recorded_by
  LEFT JOIN declaration d ON d.id = a.declaration
 WHERE a.lot = $1
 ORDER BY a.entry, a.id;

-- name: analysis_lot_of
-- in:   $1 analysis id
-- out:  lot text, corrections whole
SELECT a.lot, (SELECT COUNT(*) FROM analysis r WHERE r.replaces = a.id) AS corrections
  FROM analysis a WHERE a.id = $1;
