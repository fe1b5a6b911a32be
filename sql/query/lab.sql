-- What laboratories found.

-- row:  analysis (tenterbook/analysis.h): id text, lot text, declaration text or NULL, part part, laboratory text,
--       report text, route text, methods text, found text, u number, answers text, detail text, analysed_on text,
--       recorded_at text, recorded_by text, replaces text or NULL, declared text
-- row:  analysis_corrected: lot text, corrections whole

-- name: analysis_add
-- in:   $1 id text, $2 lot text, $3 declaration text or NULL, $4 part part, $5 laboratory text or '',
--       $6 report text or '', $7 route text, $8 methods text, $9 found text, $10 u number, $11 answers text,
--       $12 detail text, $13 analysed_on text, $14 recorded_at text, $15 recorded_by person,
--       $16 replaces text or NULL, $17 entry entry
-- from: analysis
-- fact: analysis
INSERT INTO analysis (id, lot, declaration, part, laboratory, report, route, methods, found, u, answers, detail,
                      analysed_on, recorded_at, recorded_by, replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17);

-- name: analysis_of_lot
-- in:   $1 lot text
-- out:  analysis
-- list: analysis_list
SELECT a.id, a.lot, a.declaration, a.part, a.laboratory, a.report, a.route, a.methods, a.found, a.u, a.answers,
       a.detail, a.analysed_on, a.recorded_at, p.name AS recorded_by, a.replaces, COALESCE(d.text, '') AS declared
  FROM analysis_now a JOIN person p ON p.id = a.recorded_by
  LEFT JOIN declaration d ON d.id = a.declaration
 WHERE a.lot = $1
 ORDER BY a.entry, a.id;

-- name: analysis_corrected_of_lot
-- in:   $1 lot text
-- out:  analysis
-- list: analysis_corrected_list
SELECT a.id, a.lot, a.declaration, a.part, a.laboratory, a.report, a.route, a.methods, a.found, a.u, a.answers,
       a.detail, a.analysed_on, a.recorded_at, p.name AS recorded_by, a.replaces, COALESCE(d.text, '') AS declared
  FROM analysis a JOIN person p ON p.id = a.recorded_by
  LEFT JOIN declaration d ON d.id = a.declaration
 WHERE a.lot = $1 AND EXISTS (SELECT 1 FROM analysis r WHERE r.replaces = a.id)
 ORDER BY a.entry, a.id;

-- name: analysis_lot_of
-- in:   $1 id text
-- out:  analysis_corrected
SELECT a.lot, (SELECT COUNT(*) FROM analysis r WHERE r.replaces = a.id) AS corrections
  FROM analysis a WHERE a.id = $1;
