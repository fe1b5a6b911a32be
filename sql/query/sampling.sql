-- Draws, suppliers' records, drills.

-- row:  draw (tenterbook/draws.h): id text, about text, plan text, bolts whole, cut whole, bad whole, chance number,
--       sure number, catch_one number, catch_from text, aql number or NULL, level text, inspection text,
--       accept whole, refuse whole, seed text, drawn_at text, drawn_by text
-- row:  supplier_tally (tenterbook/draws.h): supplier text, name text, right_lots whole, wrong_lots whole
-- row:  card (tenterbook/draws.h): id text, drill whole, serial whole, tester text, swatch text, tag text, part part,
--       known text, answer text or NULL, burn text or NULL, dealt_at text
-- row:  gone_bolt (tenterbook/draws.h): id text, lot text, number text, burned flag
-- row:  drilled_burn (tenterbook/draws.h): known text, burn text
-- row:  doubled (tenterbook/bench.h): burn_a text, who_a text, burn_b text, who_b text, bolt text, part part

-- name: draw_add
-- in:   $1 id text, $2 about text, $3 plan text, $4 bolts whole, $5 cut whole, $6 bad whole, $7 chance number,
--       $8 sure number, $9 catch_one number, $10 catch_from text, $11 aql number or NULL, $12 level text,
--       $13 inspection text, $14 accept whole, $15 refuse whole, $16 seed text, $17 drawn_at text,
--       $18 drawn_by person, $19 entry entry
-- from: draw
-- fact: draw
INSERT INTO draw (id, about, plan, bolts, cut, bad, chance, sure, catch_one, catch_from, aql, level, inspection,
                  accept, refuse, seed, drawn_at, drawn_by, entry)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19);

-- name: draw_bolt_add
-- in:   $1 id key, $2 draw text, $3 bolt text, $4 entry entry
-- fact: draw_bolt
INSERT INTO draw_bolt (id, draw, bolt, entry) VALUES ($1, $2, $3, $4);

-- name: draw_latest
-- in:   $1 about text
-- out:  draw
SELECT d.id, d.about, d.plan, d.bolts, d.cut, d.bad, d.chance, d.sure, d.catch_one, d.catch_from, d.aql, d.level,
       d.inspection, d.accept, d.refuse, d.seed, d.drawn_at, p.name AS drawn_by
  FROM draw d JOIN person p ON p.id = d.drawn_by
 WHERE d.about = $1
 ORDER BY d.entry DESC, d.id DESC LIMIT 1;

-- name: draws_of_lot
-- in:   $1 lot text
-- out:  draw
-- list: draws_of_lot
SELECT d.id, d.about, d.plan, d.bolts, d.cut, d.bad, d.chance, d.sure, d.catch_one, d.catch_from, d.aql, d.level,
       d.inspection, d.accept, d.refuse, d.seed, d.drawn_at, p.name AS drawn_by
  FROM draw d JOIN person p ON p.id = d.drawn_by
 WHERE EXISTS (SELECT 1 FROM draw_bolt x JOIN bolt_now b ON b.id = x.bolt WHERE x.draw = d.id AND b.lot = $1)
 ORDER BY d.entry, d.id;

-- name: draw_bolts
-- in:   $1 draw text
-- out:  bolt
-- list: draw_bolts
SELECT b.id, b.lot, b.number, b.metres, b.width_cm, b.mass_gm2, b.said, b.kg, b.derived, l.ref AS lot_ref, w.kg AS weight_kg
  FROM draw_bolt x JOIN bolt_now b ON b.id = x.bolt JOIN lot_goods l ON l.id = b.lot LEFT JOIN bolt_weight w ON w.bolt = b.id
 WHERE x.draw = $1
 ORDER BY l.ref, b.number, b.id;

-- Those that were drawn and are void since, and whether they had been burned.
-- name: draw_bolts_gone
-- in:   $1 draw text
-- out:  gone_bolt
-- list: draw_bolts_gone
SELECT b.id, b.lot, b.number,
       CASE WHEN EXISTS (SELECT 1 FROM swatch w JOIN burn n ON n.swatch = w.id WHERE w.bolt = b.id) THEN 1 ELSE 0 END AS burned
  FROM draw_bolt x JOIN bolt b ON b.id = x.bolt
 WHERE x.draw = $1 AND NOT EXISTS (SELECT 1 FROM bolt_now n WHERE n.id = b.id)
 ORDER BY b.number, b.id;

-- Bolts of a lot that were void only after a draw.
-- name: bolts_void_since
-- in:   $1 lot text, $2 draw text
-- out:  bolt
-- list: bolts_void_since
SELECT b.id, b.lot, b.number, b.metres * u.factor AS metres, b.width_cm, b.mass_gm2, b.said,
       NULL AS kg, 0 AS derived, l.ref AS lot_ref, NULL AS weight_kg
  FROM bolt b JOIN lot_goods l ON l.id = b.lot JOIN lot_unit u ON u.lot = b.lot JOIN void_span s ON s.subject = b.id
 WHERE b.lot = $1 AND s.until IS NULL AND s.since > (SELECT d.entry FROM draw d WHERE d.id = $2)
 ORDER BY b.number, b.id;

-- Bolts of a lot that are not there to be drawn, now or when a draw was made: decided of by themselves (held, released, returned) and
-- not with the whole lot since, gone back with the whole lot, or void at that time only.
-- name: bolts_apart_of_lot
-- in:   $1 lot text, $2 draw text or NULL
-- out:  bolt text
-- list: bolts_apart
SELECT b.id AS bolt
  FROM bolt b JOIN lot_whole l ON l.id = b.lot
 WHERE b.lot = $1 AND CAST($2 AS TEXT) IS NULL
   AND (l.standing = 'returned' OR EXISTS (SELECT 1 FROM bolt_standing_now s WHERE s.bolt = b.id))
UNION ALL
SELECT b.id AS bolt
  FROM draw d JOIN bolt b ON b.lot = $1
 WHERE d.id = CAST($2 AS TEXT)
   AND (EXISTS (SELECT 1 FROM bolt_standing s
                 WHERE s.bolt = b.id AND s.entry <= d.entry
                   AND NOT EXISTS (SELECT 1 FROM standing_now t
                                    WHERE t.lot = b.lot AND t.entry >= s.entry AND t.entry <= d.entry
                                      AND (s.standing <> 'returned' OR t.standing IN ('waiting', 'returned'))))
        OR EXISTS (SELECT 1 FROM void_span v WHERE v.subject = b.id AND v.since <= d.entry AND v.until > d.entry)
        OR 'returned' = (SELECT t.standing FROM standing_now t WHERE t.lot = b.lot AND t.entry <= d.entry
                          ORDER BY t.entry DESC, t.id DESC LIMIT 1))
 ORDER BY bolt;

-- name: bolts_burnt_of_lot
-- in:   $1 lot text
-- out:  bolt text
-- list: bolts_burnt
SELECT DISTINCT w.bolt
  FROM swatch_now w JOIN burn_now b ON b.swatch = w.id
 WHERE w.lot = $1 AND w.bolt IS NOT NULL
 ORDER BY w.bolt;

-- Suppliers of whom something came that counts, or of whom nothing ever came.
-- name: suppliers_known
-- out:  supplier_tally
-- list: suppliers_known
SELECT s.id AS supplier, s.name, CAST(0 AS BIGINT) AS right_lots, CAST(0 AS BIGINT) AS wrong_lots
  FROM supplier_now s
 WHERE s.same_as = s.id
   AND (EXISTS (SELECT 1 FROM delivery_now d WHERE d.supplier = s.id)
        OR NOT EXISTS (SELECT 1 FROM delivery d JOIN supplier_now n ON n.id = d.supplier WHERE n.same_as = s.id
                       UNION ALL
                       SELECT 1 FROM amendment a JOIN supplier_now n ON n.id = a.supplier WHERE n.same_as = s.id))
 ORDER BY s.name, s.id;

-- name: drill_next_serial
-- out:  serial whole
SELECT COALESCE(MAX(serial), 0) + 1 AS serial FROM drill;

-- name: drill_add
-- in:   $1 id text, $2 serial whole, $3 tester text, $4 seed text, $5 dealt_at now, $6 dealt_by person,
--       $7 entry entry
-- fact: drill
INSERT INTO drill (id, serial, tester, seed, dealt_at, dealt_by, entry) VALUES ($1, $2, $3, $4, $5, $6, $7);

-- name: drill_card_add
-- in:   $1 id key, $2 drill text, $3 serial whole, $4 swatch text, $5 entry entry
-- fact: drill_card
INSERT INTO drill_card (id, drill, serial, swatch, entry) VALUES ($1, $2, $3, $4, $5);

-- name: drill_answer_add
-- in:   $1 id key, $2 card text, $3 answer text, $4 burn text, $5 entry entry
-- fact: drill_answer
INSERT INTO drill_answer (id, card, answer, burn, entry) VALUES ($1, $2, $3, $4, $5);

-- name: drill_card_by_name
-- in:   $1 drill whole (its serial), $2 serial whole (of the card)
-- out:  card
SELECT c.id, d.serial AS drill, c.serial, d.tester, w.id AS swatch, w.tag, w.part, w.known,
       a.answer, a.burn, d.dealt_at
  FROM drill_card c JOIN drill d ON d.id = c.drill JOIN swatch w ON w.id = c.swatch
  LEFT JOIN drill_answer a ON a.card = c.id
 WHERE d.serial = $1 AND c.serial = $2;

-- name: drill_cards
-- out:  card
-- list: card_list
SELECT c.id, d.serial AS drill, c.serial, d.tester, w.id AS swatch, w.tag, w.part, w.known,
       a.answer, a.burn, d.dealt_at
  FROM drill_card c JOIN drill d ON d.id = c.drill JOIN swatch_now w ON w.id = c.swatch
  LEFT JOIN drill_answer a
    ON a.card = c.id AND NOT EXISTS (SELECT 1 FROM burn_void e WHERE e.burn = a.burn AND e.until IS NULL)
 ORDER BY d.serial, c.serial;

-- name: drill_burns
-- in:   $1 upto whole (the last journal row that counts)
-- out:  drilled_burn
-- The burns as they were answered: a mistake that was corrected later was made all the same. One that is void was no answer.
-- list: drill_burns
SELECT w.known, a.burn
  FROM drill_answer a JOIN drill_card c ON c.id = a.card JOIN swatch w ON w.id = c.swatch
 WHERE a.entry <= CAST($1 AS BIGINT)
   AND NOT EXISTS (SELECT 1 FROM burn_void s
                    WHERE s.burn = a.burn AND s.since <= CAST($1 AS BIGINT)
                      AND (s.until IS NULL OR s.until > CAST($1 AS BIGINT)))
 ORDER BY a.entry, a.id;

-- name: burns_doubled
-- out:  doubled
-- Pairs of counting burns of one bolt and part by two different people: the doubled real burns.
-- list: burns_doubled
SELECT a.id AS burn_a, pa.name AS who_a, b.id AS burn_b, pb.name AS who_b, wa.bolt, wa.part
  FROM burn_now a JOIN swatch_now wa ON wa.id = a.swatch JOIN person pa ON pa.id = a.burned_by
  JOIN swatch_now wb ON wb.bolt = wa.bolt AND wb.part = wa.part
  JOIN burn_now b ON b.swatch = wb.id JOIN person pb ON pb.id = b.burned_by
 WHERE wa.lot IS NOT NULL AND a.id < b.id AND a.burned_by <> b.burned_by
 ORDER BY a.id, b.id;
