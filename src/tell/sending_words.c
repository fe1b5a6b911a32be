/* Samples that went to a laboratory, in words and as JSON. */
#include "base/say.h"
#include "tenterbook/tell.h"

static void tags(struct tb_text *out, const struct tb_sending *s)
{
    for (size_t i = 0; i < s->pieces; i++)
        tb_part(out, "%s", s->piece[i].tag);
}

void tb_sendings_words(struct tb_text *out, const struct tb_sending *s, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        struct tb_text sent = { 0 };

        tags(&sent, &s[i]);
        tb_text_say(out, "Sent to %s on %s: %s (sending %s, recorded by %s at %s)\n", s[i].laboratory,
                    s[i].sent_on, tb_text_str(&sent), s[i].id, s[i].recorded_by, s[i].recorded_at);
        if (s[i].answered)
            tb_text_say(out, "  answered by the report of %s\n", s[i].answered);
        else
            tb_text_say(out, "  no report answers it yet\n");
        tb_text_free(&sent);
    }
}

void tb_sendings_open_words(struct tb_text *out, const struct tb_sending *s, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!s[i].answered)
            tb_text_say(out, "The sample that went to %s on %s still waits for its report.\n",
                        s[i].laboratory, s[i].sent_on);
}

#define SENDING(member, key) TB_JSON_AS(struct tb_sending, member, key)
TB_JSON_MEMBERS(sending_members, SENDING(id, "sending"), SENDING(laboratory, "laboratory"),
                SENDING(sent_on, "sent_on"), SENDING(recorded_at, "recorded_at"),
                SENDING(recorded_by, "recorded_by"), SENDING(answered, "answered_on"));
#define PIECE(member, key) TB_JSON_AS(struct tb_sending_piece, member, key)
TB_JSON_MEMBERS(piece_members, PIECE(tag, "swatch"), PIECE(bolt_number, "bolt"),
                TB_JSON_WORD_AS(struct tb_sending_piece, part, "part", &tb_part_words));

json_t *tb_json_sendings(const struct tb_sending *s, size_t n)
{
    json_t *list = json_array();

    for (size_t i = 0; i < n; i++) {
        json_t *one = tb_json_of(sending_members, &s[i]);

        tb_json_put(one, "swatches", tb_json_all(piece_members, s[i].piece, s[i].pieces));
        tb_json_push(list, one);
    }
    return list;
}

json_t *tb_json_sent(const struct tb_send_outcome *done)
{
    return json_pack("{s:s, s:o}", "lot", done->lot.ref, "sendings", tb_json_sendings(&done->sending, 1));
}
