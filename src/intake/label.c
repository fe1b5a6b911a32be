/* label.c - the label of a value above a table: a header word, an order with the words for whose it is, or a label in two languages. */
#include "intake/header.h"

#include "intake/written.h"

#include <string.h>

/* Words beside that of an order, folded: whose it is ... */
static const char party[] =
    "your yours cust customer customers client clients buyer buyers purchaser consignee s "
    "ihr ihre ihrer ihres euer eure kunde kunden kaufer besteller "
    "votre vos vtre vre v acheteur su sus comprador cliente clientes vostro vostra vs acquirente "
    "sua seu vossa vosso uw klant klanten koper er ert eran kund kundens kunder din ditt deres kundes jeres "
    "asiakas asiakkaan teidan twoje twoj panstwa wasz wasze klienta klienci nabywcy "
    "vase vas vasi vasej zakaznika zakaznik odberatele odberatela kupujiciho kupujuceho on onok ugyfel vevo "
    "vevoi "
    "dvs dumneavoastra clientului cumparator vasa vaseg kupca narocnika kupac kupca musteri musterinin alici "
    "teie kliendi ostja jusu klienta pirkejo kliento pirceja "
    "ваш ваша ваше вашего клиента клиент покупателя покупатель заказчика вашата вашия вашето "
    "πελατη πελατης πελατησ σας σασ αγοραστη";
/* ... the same, where it is the supplier's ... */
static const char ours[] =
    "our unser unsere unserer notre n nuestro nuestra nostro nostra ns nossa nosso ons onze "
    "var vart vores nasz nasze nase nas nasa mi noastra bizim meie musu "
    "наш наша наше нашего μας μασ";
/* ... small words between them, and what the buyer calls his order: "Your ref." */
static const char small[] = "of the de del della dell di du da do der des la le el il l az";
static const char reference[] =
    "ref reference referenz referens referanse referentie riferimento rif referencia "
    "referencja referinta hivatkozas viite zn značka odkaz";

/* Before a word in signs, without a space. */
static const char *const east_party[] = { "お客様", "お客さま", "御",     "ご",   "貴社",  "貴",
                                          "貴方",   "客户",     "客戶",   "买方", "買方",  "买家",
                                          "買家",   "귀사",     "고객사", "고객", "바이어" };

/* What names or describes a delivery; a bolt or a length above a table is a heading. */
static bool wanted(enum tb_field f)
{
    return f >= TB_FIELD_SUPPLIER && f <= TB_FIELD_CURRENCY && f != TB_FIELD_BOLT && f != TB_FIELD_LENGTH;
}

static enum tb_field exact(const struct tb_header_words *w, const char *s, size_t n)
{
    struct tb_word_hit hit[TB_HITS_MOST];
    size_t found = n ? tb_header_words_exact(w, s, n, hit) : 0;

    for (size_t i = 0; i < found; i++)
        if (wanted(hit[i].field))
            return hit[i].field;
    return TB_FIELD_NONE;
}

/* None of them begins with a Latin letter, which spares folding them for most labels. */
static size_t east_prefix(const char *s)
{
    if ((unsigned char)*s < 0x80)
        return 0;
    for (size_t i = 0; i < TB_COUNT(east_party); i++) {
        char folded[TB_HEADER_KEY_MOST];

        if (tb_header_key(folded, east_party[i], strlen(east_party[i])) &&
            strncmp(s, folded, strlen(folded)) == 0)
            return strlen(folded);
    }
    return 0;
}

/* The words of a label without those for whose order it is; false: there are none of those. */
static bool without_party(char out[TB_HEADER_KEY_MOST], const char *key, bool *yours)
{
    size_t k = 0, left = 0;

    *yours = false;
    for (const char *s = key; *s;) {
        size_t n = strcspn(s, " /#"), skip = east_prefix(s);
        bool is = tb_word_listed(party, s, n, " ");

        *yours = *yours || is || skip;
        if (is || tb_word_listed(ours, s, n, " ") || tb_word_listed(small, s, n, " ")) {
            left++;
        } else if (n == skip) {
            left++;
        } else {
            left += skip > 0;
            if (k)
                out[k++] = ' ';
            memcpy(out + k, s + skip, n - skip);
            k += n - skip;
        }
        s += n;
        s += strspn(s, " /");
        if (*s == '#') { /* a number of something stays one */
            out[k++] = '#';
            s++;
        }
    }
    out[k] = '\0';
    return left && k && *out != '#';
}

/* "Customer PO", "V/ Encomenda", "ご注文番号", "Uw referentie". */
static bool is_order(const struct tb_header_words *w, const char *s, size_t n)
{
    char key[TB_HEADER_KEY_MOST], bare[TB_HEADER_KEY_MOST];
    bool yours;

    if (!tb_header_key(key, s, n) || !without_party(bare, key, &yours))
        return false;
    return exact(w, bare, strlen(bare)) == TB_FIELD_ORDER ||
           (yours && tb_word_listed(reference, bare, strcspn(bare, "#"), " "));
}

/* "č." and "št." behind a label are words for "number" that folding would make a "c" and a "st": they become '#', in place. */
static void mark_numbers(char *s)
{
    static const char *const word[] = { "\u010D.", "\u010C.", "\u0161t.", "\u0160t." };

    for (size_t i = 0; i < TB_COUNT(word); i++) {
        size_t n = strlen(word[i]);

        for (char *at = s; (at = strstr(at, word[i])); at++)
            if (at == s || strchr(" (/:", at[-1])) {
                memset(at, ' ', n);
                *at = '#';
            }
    }
}

static enum tb_field one_language(const struct tb_header_words *w, const char *s, size_t n)
{
    char marked[TB_HEADER_KEY_MOST];
    enum tb_field f;

    while (n && strchr(" ()/|:\n", *s)) {
        s++;
        n--;
    }
    while (n && strchr(" ()/|:\n", s[n - 1]))
        n--;
    if (!n || n >= sizeof marked)
        return TB_FIELD_NONE;
    memcpy(marked, s, n);
    marked[n] = '\0';
    if ((f = exact(w, s, n)) == TB_FIELD_NONE) {
        mark_numbers(marked);
        f = exact(w, marked, n);
    }
    return !f && is_order(w, marked, n) ? TB_FIELD_ORDER : f;
}

/* Signs of Chinese, Japanese and Korean beside other letters. */
static bool scripts_meet(const char *s, size_t at)
{
    size_t before = at - 1;

    while (before && (((unsigned char)s[before] & 0xC0) == 0x80 || s[before] == ' '))
        before--;
    return ((unsigned char)s[before] >= 0xE3 && (unsigned char)s[before] < 0xEE) !=
           ((unsigned char)s[at] >= 0xE3 && (unsigned char)s[at] < 0xEE);
}

/*
 * "日期 Date", "Date / Datum": both halves say the same. Where the scripts differ, one half that is known will do for a number; a
 * date may be that of anything ("发票 Date").
 */
static enum tb_field two_languages(const struct tb_header_words *w, const char *s, size_t n)
{
    for (size_t at = 1; at < n; at++) {
        bool meet;
        enum tb_field a, b;

        if (((unsigned char)s[at] & 0xC0) == 0x80 || s[at] == ' ')
            continue;
        meet = scripts_meet(s, at);
        if (!meet && !strchr(" /|(\n", s[at - 1]) && !strchr("/|(\n", s[at]))
            continue;
        a = one_language(w, s, at);
        b = one_language(w, s + at, n - at);
        if (a && a == b)
            return a;
        if (meet && !a != !b &&
            (a + b == TB_FIELD_ORDER || a + b == TB_FIELD_NOTE || a + b == TB_FIELD_SUPPLIER))
            return a ? a : b;
    }
    return TB_FIELD_NONE;
}

enum tb_field tb_label_field(const struct tb_header_words *w, const char *s, size_t n)
{
    enum tb_field f;

    while (n && (s[n - 1] == ' ' || s[n - 1] == ':'))
        n--;
    if (!n || n >= TB_HEADER_KEY_MOST)
        return TB_FIELD_NONE;
    f = one_language(w, s, n);
    return f ? f : two_languages(w, s, n);
}

bool tb_label_is_ours(const char *s, size_t n)
{
    char key[TB_HEADER_KEY_MOST];

    return tb_header_key(key, s, n) && tb_word_listed(ours, key, strcspn(key, " /#"), " ");
}

/* Source: common practice, no source. */
bool tb_label_is_contract(const char *s, size_t n)
{
    static const char contract[] = "contract contracts sc s/c vertrag kontrakt contrat contrato contratto "
                                   "kontrat sozlesme umowa 合同 合同号 合同编号 契約 계약";
    char key[TB_HEADER_KEY_MOST];

    if (!tb_header_key(key, s, n))
        return false;
    for (const char *word = key; *word; word += strspn(word, " #")) {
        size_t length = strcspn(word, " #");

        if (tb_word_listed(contract, word, length, " "))
            return true;
        word += length;
    }
    return false;
}

/* The field of a label, also one whose value is not kept: "Rolls | 24", "Note | 4711". */
static enum tb_field any_label(const struct tb_header_words *w, const char *s, size_t n)
{
    enum tb_field f = tb_label_field(w, s, n);
    struct tb_word_hit hit[TB_HITS_MOST];

    if (f || !tb_header_words_exact(w, s, n, hit))
        return f;
    return hit[0].field > TB_FIELD_PARTS && hit[0].field != TB_FIELD_TOTAL ? hit[0].field : TB_FIELD_NONE;
}

/* A unit behind "Unit", or anything that is no word of a header. */
static bool may_be_value(const struct tb_header_words *w, enum tb_field label, const struct tb_cell *c)
{
    struct tb_word_hit hit[TB_HITS_MOST];

    return label == TB_FIELD_UNIT ? tb_unit_find(TB_FIELD_LENGTH, c->text, strlen(c->text)) != TB_UNIT_NONE
                                  : c->type != TB_CELL_TEXT || !tb_header_words_find(w, c->text, hit);
}

bool tb_row_pairs(const struct tb_header_words *w, const struct tb_row *row)
{
    enum tb_field label = TB_FIELD_NONE;
    size_t cells = 0;

    for (size_t i = 0; i < row->n; i++) {
        const struct tb_cell *c = &row->cell[i];

        if (c->type == TB_CELL_EMPTY)
            continue;
        if (cells++ % 2) {
            if (!may_be_value(w, label, c))
                return false;
        } else if (c->type != TB_CELL_TEXT || !(label = any_label(w, c->text, strlen(c->text)))) {
            return false;
        }
    }
    return cells && cells % 2 == 0;
}

/* Source: common practice, no source. */
bool tb_label_is_material(const char *label)
{
    static const char *const word[] = { "mater",    "Mater", "MATER", "материал", "Материал", "матеріал",
                                        "Матеріал", "anyag", "Anyag", "材料",     "素材",     "소재" };

    for (size_t i = 0; i < TB_COUNT(word); i++)
        if (strncmp(label, word[i], strlen(word[i])) == 0)
            return true;
    return false;
}
