-- What a person may have meant by a name.

-- row:  name_there: about text, name text
-- row:  named (tenterbook/named.h): about text, ref text, rank whole

-- Everything that counts and has a name, or the bolts of one lot.
-- name: names_there
-- in:   $1 lot text or NULL (id)
-- out:  name_there
SELECT 'bolt' AS about, b.number AS name FROM bolt_now b
 WHERE CAST($1 AS TEXT) IS NULL OR b.lot = CAST($1 AS TEXT)
UNION ALL
SELECT 'swatch', w.tag FROM swatch_now w WHERE CAST($1 AS TEXT) IS NULL
UNION ALL
SELECT 'lot', l.ref FROM lot_goods l WHERE l.voided = 0 AND CAST($1 AS TEXT) IS NULL
UNION ALL
SELECT 'delivery', d.ref FROM delivery_now d WHERE CAST($1 AS TEXT) IS NULL;

-- Everybody who wrote in the book, and every supplier.
-- name: people_there
-- out:  name_there
SELECT 'person' AS about, p.name FROM person p
UNION ALL
SELECT 'supplier', s.name FROM supplier s;

-- All that is called exactly so, what counts before what is void; of a bolt the reference of its lot.
-- name: named
-- in:   $1 name text
-- out:  named
SELECT 'lot' AS about, l.ref, 1 AS rank FROM lot_goods l WHERE l.ref = $1
UNION ALL
SELECT 'bolt', l.ref, 2 FROM bolt_now b JOIN lot_goods l ON l.id = b.lot WHERE b.number = $1
UNION ALL
SELECT 'swatch', w.tag, 3 FROM swatch_now w WHERE w.tag = $1
UNION ALL
SELECT 'delivery', d.ref, 4 FROM delivery_amended d WHERE d.ref = $1
UNION ALL
SELECT 'void swatch', w.tag, 5 FROM swatch w WHERE w.tag = $1
UNION ALL
SELECT 'void bolt', l.ref, 6 FROM bolt b JOIN lot_goods l ON l.id = b.lot WHERE b.number = $1
 ORDER BY 3;

-- Void ones too.
-- name: lot_refs_of_delivery
-- in:   $1 delivery text
-- out:  ref text
SELECT ref FROM lot_goods WHERE delivery = $1 ORDER BY serial;

-- name: lot_ref
-- in:   $1 id text
-- out:  ref text
SELECT ref FROM lot_goods WHERE id = $1;

-- Numbers that differ in letter case and in the zeros before them.
-- name: bolt_numbers_like
-- in:   $1 number text, $2 lot text or NULL (reference)
-- out:  number text
SELECT DISTINCT b.number FROM bolt_now b JOIN lot_goods l ON l.id = b.lot
 WHERE UPPER(LTRIM(b.number, '0')) = UPPER(LTRIM($1, '0'))
   AND (CAST($2 AS TEXT) IS NULL OR l.ref = CAST($2 AS TEXT))
 ORDER BY b.number LIMIT 2;
