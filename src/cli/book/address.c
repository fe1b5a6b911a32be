/* address: how to write to a supplier, and what stands above our own letters. */
#include "tenterbook/address.h"
#include "cli/show.h"

#include <string.h>

static tb_rc print_all(struct tb_ctx *ctx, struct tb_err *err)
{
    json_t *list = json_array();
    struct tb_text t = { 0 };
    struct tb_address *a;
    size_t n;
    tb_rc rc = tb_address_list(&a, &n, ctx->book, &ctx->mem, err);

    if (rc == TB_OK) {
        for (size_t i = 0; i < n; i++) {
            tb_json_push(list, tb_json_address(&a[i]));
            tb_address_words(&t, &a[i], tb_book_site(ctx->book)->name);
        }
        if (!n)
            tb_text_say(&t, "No address is set.\n");
        rc = tb_print(ctx, json_incref(list), &t, err);
    }
    json_decref(list);
    return rc;
}

/* NULL: our own. */
static tb_rc print_one(struct tb_ctx *ctx, const char *supplier, struct tb_err *err)
{
    struct tb_supplier s = { 0 };
    struct tb_address a;
    struct tb_text t = { 0 };
    tb_rc rc = supplier ? tb_supplier_find(&s, ctx->book, supplier, &ctx->mem, err) : TB_OK;

    if (rc != TB_OK || (rc = tb_address_of(&a, ctx->book, s.id, &ctx->mem, err)) != TB_OK)
        return rc;
    a.supplier = s.id;
    a.supplier_name = s.name;
    tb_address_words(&t, &a, tb_book_site(ctx->book)->name);
    if (!a.id)
        tb_text_say(&t, "No address is set.\n");
    return tb_print(ctx, tb_json_address(&a), &t, err);
}

static tb_rc change(struct tb_ctx *ctx, const char *supplier, struct tb_err *err)
{
    struct tb_address_request r = { .supplier = supplier,
                                    .name = tb_opt(ctx, "name"),
                                    .postcode = tb_opt(ctx, "postcode"),
                                    .place = tb_opt(ctx, "place"),
                                    .country = tb_opt(ctx, "country"),
                                    .contact = tb_opt(ctx, "contact"),
                                    .email = tb_opt(ctx, "email"),
                                    .phone = tb_opt(ctx, "phone"),
                                    .registration = tb_opt(ctx, "registration"),
                                    .language = tb_opt(ctx, "language") };
    struct tb_address a = { 0 };
    struct tb_text t = { 0 };
    tb_rc rc;

    r.street = tb_opt_all(&r.streets, ctx, "street");
    if ((rc = ctx->rc) != TB_OK || (rc = tb_act_address(&a, &ctx->actor, &r, &ctx->mem, err)) != TB_OK)
        return rc;
    tb_address_words(&t, &a, tb_book_site(ctx->book)->name);
    return tb_print(ctx, tb_json_address(&a), &t, err);
}

static tb_rc run(struct tb_ctx *ctx, struct tb_err *err)
{
    const char *what =
        tb_opt_among(ctx, "name street postcode place country contact email phone registration language");
    const char *supplier = ctx->argc ? ctx->argv[0] : NULL;
    bool ours = tb_opt_on(ctx, "ours");

    if (ours && supplier)
        return tb_misuse(err, "--ours is our own address; name no supplier beside it");
    if (what && !ours && !supplier)
        return tb_misuse(err, "name a supplier, or --ours, and what to set");
    if (what)
        return change(ctx, supplier, err);
    return ours || supplier ? print_one(ctx, supplier, err) : print_all(ctx, err);
}

static const struct tb_opt opts[] = {
    { "ours", NULL, "our own: what stands above a letter", false },
    { "name", "TEXT", "the name on letters, where the book has a shorter one", false },
    { "street", "LINE", "a line between name and place; may be given again, all lines at once", true },
    { "postcode", "TEXT", "the postcode", false },
    { "place", "TEXT", "the place, with its district or province where letters need it", false },
    { "country", "XX", "the country, two letters like IT", false },
    { "contact", "NAME", "the person letters go to, or come from", false },
    { "email", "ADDRESS", "the e-mail address", false },
    { "phone", "NUMBER", "the telephone number", false },
    { "registration", "TEXT", "number in a register or for taxes, as it is to be printed", false },
    { "language", "XX", "the language papers for them are written in: en, de, es, fr, it, pl, pt, tr, zh",
      false },
    { NULL, NULL, NULL, false },
};

const struct tb_cmd tb_cmd_address = {
    .name = "address",
    .args = "[SUPPLIER | --ours] [--street LINE] [--place TEXT] [--email ADDRESS] [--language XX]",
    .brief = "how to write to a supplier, and what stands above our own letters",
    .about = "Shows and sets names, addresses, contacts, registration numbers and languages of suppliers, "
             "and with --ours "
             "our own. A notice to a supplier takes sender, recipient and its language from here. What no "
             "option mentions "
             "stays as it was; an option with \"\" takes it back. What was set before stays in the book.",
    .example = "tenterbook address --ours --street \"12 Quay Road\" --postcode \"LE1 1AA\" --place Leicester "
               "--country GB\n"
               "tenterbook address \"Harrow Mill\" --street \"Via Roma 1\" --postcode 59100 --place \"Prato "
               "PO\" --country IT "
               "--email qualita@example.com --language it\n"
               "tenterbook address \"Harrow Mill\"",
    .opts = opts,
    .max = 1,
    .flags = TB_WRITES,
    .run = run,
};
