/*
 * limits.h - what the book takes, at most and at least. Above or below stands a slip of the finger or a damaged file: it is
 * refused with a sentence that names the place and the limit. docs/book.md has the table for people.
 *
 * What is in a book already stays readable whatever the limits are.
 */
#ifndef TENTERBOOK_LIMITS_H
#define TENTERBOOK_LIMITS_H

/* A bolt, metres. */
#define TB_METRES_LEAST 0.01
#define TB_METRES_MOST 100000.0
/* The same, counted in kilograms. */
#define TB_KG_LEAST 0.001
#define TB_KG_MOST 100000.0
/* Cloth: width, centimetres; mass, grams a square metre. */
#define TB_WIDTH_LEAST 1.0
#define TB_WIDTH_MOST 1000.0
#define TB_MASS_LEAST 1.0
#define TB_MASS_MOST 5000.0
/* A price a metre, in any currency; what a dispute is about. */
#define TB_PRICE_MOST 1e9
#define TB_AMOUNT_MOST 1e12
/* Days that are recorded: past ones and those by which something is due. */
#define TB_DAY_FIRST "1990-01-01"
#define TB_DAY_LAST "2199-12-31"
/* Bytes of a name (person, supplier, site), of a bolt's number, of words from a packing list, of what is typed. */
#define TB_NAME_MOST 200
#define TB_BOLT_NUMBER_MOST 80
#define TB_LISTED_MOST 4000
#define TB_SAID_MOST 16000

#endif
