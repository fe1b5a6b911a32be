-- What became of a lot is concluded of all that is known of it, laboratories included, and not of its standing.

DROP VIEW lot_outcome;
