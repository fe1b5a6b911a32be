-- What the book holds about one lot, row by row as it was written, for a case file: the columns of facts_TABLE. Known
-- cloths and the settings of the model are among it: with them the verdict can be computed again elsewhere. Addresses and terms
-- are left out: they are the buyer's own, and the file goes to the other side. So is what a label of the buyer's says, and so are draws, which
-- may be of several lots, and drills. tests/unit/test_extract_tables.c insists that each other table of facts is here.
-- People and suppliers are of no lot by themselves, and become related to one by a record that may be younger than they
-- are. So what relates them counts up to the journal row $2 alone: a case tells those that were related when it was made.

-- name: extract_site
-- in:   $1 lot text
-- out:  fact site
SELECT x.id, x.code, x.name, x.country, x.entry
  FROM site x
 WHERE x.id IN (SELECT d.site FROM delivery d JOIN lot l ON l.delivery = d.id WHERE l.id = $1)
 ORDER BY x.entry, x.id;

-- Whoever is named by a row of the lot, and whoever was first written down by a record about the lot: its journal row
-- counts that person among its facts, and a declaration or a draw names nobody itself.

-- name: extract_person
-- in:   $1 lot text, $2 upto whole (the last journal row that counts)
-- out:  fact person
SELECT x.id, x.name, x.entry
  FROM person x
 WHERE x.id IN (SELECT d.received_by FROM delivery d JOIN lot l ON l.delivery = d.id WHERE l.id = $1 AND d.entry <= $2)
    OR x.id IN (SELECT w.cut_by FROM swatch w WHERE (w.lot = $1 OR w.lot IS NULL) AND w.entry <= $2)
    OR x.id IN (SELECT b.burned_by FROM burn b JOIN swatch w ON w.id = b.swatch
                 WHERE (w.lot = $1 OR w.lot IS NULL) AND b.entry <= $2)
    OR x.id IN (SELECT t.tested_by FROM bench_test t JOIN swatch w ON w.id = t.swatch WHERE w.lot = $1 AND t.entry <= $2)
    OR x.id IN (SELECT v.judged_by FROM verdict v WHERE v.lot = $1 AND v.entry <= $2)
    OR x.id IN (SELECT s.settled_by FROM standing s WHERE s.lot = $1 AND s.entry <= $2)
    OR x.id IN (SELECT s.settled_by FROM bolt_standing s WHERE s.lot = $1 AND s.entry <= $2)
    OR x.id IN (SELECT a.recorded_by FROM analysis a WHERE a.lot = $1 AND a.entry <= $2)
    OR x.id IN (SELECT n.recorded_by FROM sending n WHERE n.lot = $1 AND n.entry <= $2)
    OR x.id IN (SELECT u.used_by FROM bolt_use u JOIN bolt b ON b.id = u.bolt WHERE b.lot = $1 AND u.entry <= $2)
    OR x.id IN (SELECT v.voided_by FROM voiding v
                 WHERE (v.lot = $1 OR (v.lot IS NULL AND v.about IN ('swatch', 'burn'))) AND v.entry <= $2)
    OR x.id IN (SELECT a.amended_by FROM amendment a WHERE a.lot = $1 AND a.entry <= $2)
    OR x.id IN (SELECT m.set_by FROM supplier_same m
                 WHERE m.entry <= $2
                   AND (m.supplier IN (SELECT d.supplier FROM delivery d JOIN lot l ON l.delivery = d.id
                                        WHERE l.id = $1)
                        OR m.supplier IN (SELECT a.supplier FROM amendment a WHERE a.lot = $1 AND a.entry <= $2)))
    OR x.id IN (SELECT j.dealt_by FROM joint_sample j WHERE j.lot = $1 AND j.entry <= $2)
    OR x.id IN (SELECT t.recorded_by FROM dispute_step t JOIN dispute d ON d.id = t.dispute
                 WHERE d.lot = $1 AND t.entry <= $2)
    OR x.entry IN (SELECT j.number
                     FROM journal j JOIN lot l ON substr(j.subject, 1, length(l.ref) + 1) IN (l.ref, l.ref || '.')
                    WHERE l.id = $1)
 ORDER BY x.entry, x.id;

-- The supplier under each name that was given for the delivery, and whom those are the same as.

-- name: extract_supplier
-- in:   $1 lot text, $2 upto whole (the last journal row that counts)
-- out:  fact supplier
SELECT x.id, x.name, x.folded, x.entry
  FROM supplier x
 WHERE x.id IN (SELECT d.supplier FROM delivery d JOIN lot l ON l.delivery = d.id WHERE l.id = $1)
    OR x.id IN (SELECT a.supplier FROM amendment a WHERE a.lot = $1 AND a.entry <= $2)
    OR x.id IN (SELECT m.same_as FROM supplier_same m
                 WHERE m.entry <= $2
                   AND (m.supplier IN (SELECT d.supplier FROM delivery d JOIN lot l ON l.delivery = d.id
                                        WHERE l.id = $1)
                        OR m.supplier IN (SELECT a.supplier FROM amendment a WHERE a.lot = $1 AND a.entry <= $2)))
 ORDER BY x.entry, x.id;

-- name: extract_supplier_same
-- in:   $1 lot text, $2 upto whole (the last journal row that counts)
-- out:  fact supplier_same
SELECT x.id, x.supplier, x.same_as, x.why, x.set_at, x.set_by, x.entry
  FROM supplier_same x
 WHERE x.supplier IN (SELECT d.supplier FROM delivery d JOIN lot l ON l.delivery = d.id WHERE l.id = $1)
    OR x.supplier IN (SELECT a.supplier FROM amendment a WHERE a.lot = $1 AND a.entry <= $2)
 ORDER BY x.entry, x.id;

-- name: extract_amendment
-- in:   $1 lot text
-- out:  fact amendment
SELECT x.id, x.delivery, x.lot, x.field, x.old, x.new, x.supplier, x.why, x.amended_at, x.amended_by, x.entry
  FROM amendment x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- What of the lot is void, and of the known cloth that verdicts rest on.

-- name: extract_voiding
-- in:   $1 lot text
-- out:  fact voiding
SELECT x.id, x.about, x.subject, x.lot, x.why, x.instead, x.voided_at, x.voided_by, x.replaces, x.entry
  FROM voiding x
 WHERE x.lot = $1 OR (x.lot IS NULL AND x.about IN ('swatch', 'burn'))
 ORDER BY x.entry, x.id;

-- name: extract_delivery
-- in:   $1 lot text
-- out:  fact delivery
SELECT x.id, x.ref, x.site, x.year, x.serial, x.supplier, x.note, x.order_no, x.note_day, x.arrived,
       x.received_at, x.received_by, x.file_name, x.file_digest, x.remark, x.entry
  FROM delivery x
 WHERE x.id IN (SELECT l.delivery FROM lot l WHERE l.id = $1)
 ORDER BY x.entry, x.id;

-- name: extract_lot
-- in:   $1 lot text
-- out:  fact lot
SELECT x.id, x.ref, x.delivery, x.serial, x.article, x.colour, x.dye_lot, x.origin, x.unit_price, x.currency,
       x.bolts, x.metres, x.entry
  FROM lot x
 WHERE x.id = $1
 ORDER BY x.entry, x.id;

-- name: extract_declaration
-- in:   $1 lot text
-- out:  fact declaration
SELECT x.id, x.lot, x.text, x.reading, x.clear, x.doubts, x.origin, x.replaces, x.entry
  FROM declaration x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_declaration_why
-- in:   $1 lot text
-- out:  fact declaration_why
SELECT x.id, x.declaration, x.why, x.entry
  FROM declaration_why x
 WHERE x.declaration IN (SELECT d.id FROM declaration d WHERE d.lot = $1)
 ORDER BY x.entry, x.id;

-- name: extract_bolt
-- in:   $1 lot text
-- out:  fact bolt
SELECT x.id, x.lot, x.number, x.metres, x.width_cm, x.mass_gm2, x.said, x.entry
  FROM bolt x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_bolt_mass
-- in:   $1 lot text
-- out:  fact bolt_mass
SELECT x.id, x.bolt, x.kg, x.derived, x.entry
  FROM bolt_mass x
 WHERE x.bolt IN (SELECT b.id FROM bolt b WHERE b.lot = $1)
 ORDER BY x.entry, x.id;

-- name: extract_lot_mass
-- in:   $1 lot text
-- out:  fact lot_mass
SELECT x.id, x.lot, x.kg, x.derived, x.unknown, x.entry
  FROM lot_mass x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_bolt_weight
-- in:   $1 lot text
-- out:  fact bolt_weight
SELECT x.id, x.bolt, x.kg, x.entry
  FROM bolt_weight x
 WHERE x.bolt IN (SELECT b.id FROM bolt b WHERE b.lot = $1)
 ORDER BY x.entry, x.id;

-- name: extract_lot_weight
-- in:   $1 lot text
-- out:  fact lot_weight
SELECT x.id, x.lot, x.kg, x.bolts, x.entry
  FROM lot_weight x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_lot_price
-- in:   $1 lot text
-- out:  fact lot_price
SELECT x.id, x.lot, x.price, x.unit, x.metres, x.currency, x.entry
  FROM lot_price x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_swatch
-- in:   $1 lot text
-- out:  fact swatch
SELECT x.id, x.tag, x.lot, x.bolt, x.serial, x.part, x.known, x.kept, x.cut_at, x.cut_by, x.entry
  FROM swatch x
 WHERE x.lot = $1 OR x.lot IS NULL
 ORDER BY x.entry, x.id;

-- name: extract_burn
-- in:   $1 lot text
-- out:  fact burn
SELECT x.id, x.swatch, x.looked, x.burned_at, x.burned_by, x.recorded_at, x.flame, x.sample_mm, x.at_hand,
       x.dead_at, x.note, x.replaces, x.entry
  FROM burn x
 WHERE x.swatch IN (SELECT w.id FROM swatch w WHERE w.lot = $1 OR w.lot IS NULL)
 ORDER BY x.entry, x.id;

-- name: extract_cue_seen
-- in:   $1 lot text
-- out:  fact cue_seen
SELECT x.id, x.burn, x.cue, x.seen, x.entry
  FROM cue_seen x
 WHERE x.burn IN (SELECT b.id FROM burn b JOIN swatch w ON w.id = b.swatch WHERE w.lot = $1 OR w.lot IS NULL)
 ORDER BY x.entry, x.id;

-- name: extract_bench_test
-- in:   $1 lot text
-- out:  fact bench_test
SELECT x.id, x.swatch, x.test, x.result, x.tested_at, x.tested_by, x.note, x.replaces, x.entry
  FROM bench_test x
 WHERE x.swatch IN (SELECT w.id FROM swatch w WHERE w.lot = $1)
 ORDER BY x.entry, x.id;

-- name: extract_analysis
-- in:   $1 lot text
-- out:  fact analysis
SELECT x.id, x.lot, x.declaration, x.part, x.laboratory, x.report, x.route, x.methods, x.found, x.u, x.answers,
       x.detail, x.analysed_on, x.recorded_at, x.recorded_by, x.replaces, x.entry
  FROM analysis x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_verdict
-- in:   $1 lot text
-- out:  fact verdict
SELECT x.id, x.lot, x.verdict, x.log_ratio, x.bolts_burnt, x.bolts, x.reference, x.detail, x.judged_at,
       x.judged_by, x.entry
  FROM verdict x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_verdict_grade
-- in:   $1 lot text
-- out:  fact verdict_grade
SELECT x.id, x.lot, x.verdict, x.grade, x.lowest, x.highest, x.one_look, x.bolts, x.entry
  FROM verdict v JOIN verdict_grade x ON x.verdict = v.id
 WHERE v.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_standing
-- in:   $1 lot text
-- out:  fact standing
SELECT x.id, x.lot, x.standing, x.why, x.old_words, x.new_words, x.goods_of, x.settled_at, x.settled_by, x.entry
  FROM standing x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_bolt_standing
-- in:   $1 lot text
-- out:  fact bolt_standing
SELECT x.id, x.lot, x.bolt, x.standing, x.why, x.settled_at, x.settled_by, x.entry
  FROM bolt_standing x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_bolt_use
-- in:   $1 lot text
-- out:  fact bolt_use
SELECT x.id, x.bolt, x.used, x.metres, x.why, x.anyway, x.used_at, x.used_by, x.replaces, x.entry
  FROM bolt_use x
 WHERE x.bolt IN (SELECT b.id FROM bolt b WHERE b.lot = $1)
 ORDER BY x.entry, x.id;

-- name: extract_sending
-- in:   $1 lot text
-- out:  fact sending
SELECT x.id, x.lot, x.laboratory, x.sent_on, x.recorded_at, x.recorded_by, x.entry
  FROM sending x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_sending_piece
-- in:   $1 lot text
-- out:  fact sending_piece
SELECT x.id, x.sending, x.swatch, x.entry
  FROM sending_piece x
 WHERE x.sending IN (SELECT n.id FROM sending n WHERE n.lot = $1)
 ORDER BY x.entry, x.id;

-- name: extract_joint_sample
-- in:   $1 lot text
-- out:  fact joint_sample
SELECT x.id, x.lot, x.serial, x.swatches, x.each_one, x.seed, x.laboratory, x.rule, x.present, x.dealt_at, x.dealt_by,
       x.entry
  FROM joint_sample x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_joint_piece
-- in:   $1 lot text
-- out:  fact joint_piece
SELECT x.id, x.sample, x.swatch, x.holder, x.entry
  FROM joint_piece x
 WHERE x.sample IN (SELECT j.id FROM joint_sample j WHERE j.lot = $1)
 ORDER BY x.entry, x.id;

-- What was claimed, sent, answered and agreed: both sides know it.

-- name: extract_dispute
-- in:   $1 lot text
-- out:  fact dispute
SELECT x.id, x.lot, x.serial, x.found_on, x.entry
  FROM dispute x
 WHERE x.lot = $1
 ORDER BY x.entry, x.id;

-- name: extract_dispute_step
-- in:   $1 lot text
-- out:  fact dispute_step
SELECT x.id, x.dispute, x.step, x.day, x.words, x.due, x.remedy, x.amount, x.currency, x.channel, x.proof, x.document,
       x.keep_until, x.recorded_at, x.recorded_by, x.entry
  FROM dispute_step x
 WHERE x.dispute IN (SELECT d.id FROM dispute d WHERE d.lot = $1)
 ORDER BY x.entry, x.id;

-- The documents of this lot's disputes are among the attachments: they were sent to the other side or came from it. They
-- are attached to the lot itself, so that those of another lot, even of the same delivery, never come along.

-- name: extract_attachment
-- in:   $1 lot text
-- out:  fact attachment
SELECT x.id, x.about, x.subject, x.name, x.media, x.sha256, x.bytes, x.entry
  FROM attachment x
 WHERE x.subject = $1
    OR x.subject IN (SELECT l.delivery FROM lot l WHERE l.id = $1)
    OR x.subject IN (SELECT w.id FROM swatch w WHERE w.lot = $1)
    OR x.subject IN (SELECT b.id FROM burn b JOIN swatch w ON w.id = b.swatch WHERE w.lot = $1)
    OR x.subject IN (SELECT t.id FROM bench_test t JOIN swatch w ON w.id = t.swatch WHERE w.lot = $1)
    OR x.subject IN (SELECT s.id FROM standing s WHERE s.lot = $1)
 ORDER BY x.entry, x.id;

-- name: extract_setting
-- in:   $1 lot text
-- out:  fact setting
SELECT x.id, x.name, x.value, x.entry
  FROM setting x
 WHERE x.name IN ('commonness', 'contradicts_below', 'speaks_below', 'fits_above', 'site_weight', 'hazards', 'flame') AND CAST($1 AS TEXT) IS NOT NULL
 ORDER BY x.entry, x.id;
