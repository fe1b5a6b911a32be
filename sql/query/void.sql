-- What was recorded by mistake and is void, and what of a delivery was amended.

-- row:  voiding (tenterbook/void.h): id text, about text, subject text, lot text or NULL, why text, instead text,
--       voided_at text, voided_by text, replaces text or NULL, ref text, back_at text or NULL, back_by text, back_why text
-- row:  amendment (tenterbook/void.h): id text, delivery text, lot text, field text, old text, new text,
--       supplier text or NULL, why text, amended_at text, amended_by text

-- name: voiding_add
-- in:   $1 id text, $2 about text, $3 subject text, $4 lot text or NULL, $5 why text, $6 instead text or '',
--       $7 voided_at text, $8 voided_by person, $9 replaces text or NULL, $10 entry entry
-- from: voiding
-- fact: voiding
INSERT INTO voiding (id, about, subject, lot, why, instead, voided_at, voided_by, replaces, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10);

-- All of a lot, those taken back too. NULL: of known cloth, and of deliveries.
-- name: voiding_of_lot
-- in:   $1 lot text or NULL
-- out:  voiding
-- list: voiding_list
SELECT v.id, v.about, v.subject, v.lot, v.why, v.instead, v.voided_at, p.name AS voided_by, v.replaces,
       COALESCE(l.ref, o.number, w.tag, wb.tag, wt.tag, d.ref, '') AS ref, r.voided_at AS back_at,
       COALESCE(q.name, '') AS back_by, COALESCE(r.why, '') AS back_why
  FROM voiding v JOIN person p ON p.id = v.voided_by
  LEFT JOIN voiding r ON r.replaces = v.id LEFT JOIN person q ON q.id = r.voided_by
  LEFT JOIN lot l ON l.id = v.subject LEFT JOIN bolt o ON o.id = v.subject LEFT JOIN swatch w ON w.id = v.subject
  LEFT JOIN burn b ON b.id = v.subject LEFT JOIN swatch wb ON wb.id = b.swatch
  LEFT JOIN bench_test t ON t.id = v.subject LEFT JOIN swatch wt ON wt.id = t.swatch
  LEFT JOIN delivery d ON d.id = v.subject
 WHERE v.lot IS NOT DISTINCT FROM CAST($1 AS TEXT) AND v.replaces IS NULL
 ORDER BY v.entry, v.id;

-- Why a delivery, a lot or a swatch of this name does not count any more: it, its bolt or its lot is void.
-- name: voiding_of_ref
-- in:   $1 ref text
-- out:  voiding
SELECT v.id, v.about, v.subject, v.lot, v.why, v.instead, v.voided_at, p.name AS voided_by, v.replaces,
       COALESCE(l.ref, o.number, w.tag, d.ref, '') AS ref, NULL AS back_at, '' AS back_by, '' AS back_why
  FROM void_span s JOIN voiding v ON v.id = s.id JOIN person p ON p.id = v.voided_by
  LEFT JOIN lot l ON l.id = v.subject LEFT JOIN bolt o ON o.id = v.subject LEFT JOIN swatch w ON w.id = v.subject
  LEFT JOIN delivery d ON d.id = v.subject
 WHERE s.until IS NULL
   AND (s.subject IN (SELECT x.id FROM delivery x WHERE x.ref = $1)
     OR s.subject IN (SELECT x.id FROM lot x WHERE x.ref = $1)
     OR s.subject IN (SELECT x.id FROM swatch x WHERE x.tag = $1)
     OR s.subject IN (SELECT x.bolt FROM swatch x WHERE x.tag = $1)
     OR s.subject IN (SELECT x.lot FROM swatch x WHERE x.tag = $1))
 ORDER BY v.entry, v.id LIMIT 1;

-- name: amendment_add
-- in:   $1 id text, $2 delivery text, $3 lot text, $4 field text, $5 old text, $6 new text, $7 supplier text or NULL,
--       $8 why text, $9 amended_at text, $10 amended_by person, $11 entry entry
-- from: amendment
-- fact: amendment
INSERT INTO amendment (id, delivery, lot, field, old, new, supplier, why, amended_at, amended_by, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11);

-- name: amendment_of_lot
-- in:   $1 lot text
-- out:  amendment
-- list: amendment_list
SELECT a.id, a.delivery, a.lot, a.field, a.old, a.new, a.supplier, a.why, a.amended_at, p.name AS amended_by
  FROM amendment a JOIN person p ON p.id = a.amended_by
 WHERE a.lot = $1
 ORDER BY a.entry, a.id;

-- name: supplier_same_add
-- in:   $1 id key, $2 supplier text, $3 same_as text, $4 why text, $5 set_at now, $6 set_by person, $7 entry entry
-- fact: supplier_same
INSERT INTO supplier_same (id, supplier, same_as, why, set_at, set_by, entry) VALUES ($1, $2, $3, $4, $5, $6, $7);
