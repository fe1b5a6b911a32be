/* note_near.h - inside the module: whether two numbers of notes may be one. */
#ifndef TENTERBOOK_WORK_NOTE_NEAR_H
#define TENTERBOOK_WORK_NOTE_NEAR_H

enum tb_note_like {
    TB_NOTE_OTHER,
    /* one has letters that the other lacks, or goes on behind it: "No. 4711", "4711/26" and 4711. With the same date it is one */
    TB_NOTE_NEAR,
    TB_NOTE_SAME /* but for case, signs between and zeros before its figures, which a spreadsheet drops: 000881 and 881 */
};
/* tb_note_like - our own rule; no standard says how a note is numbered. */
enum tb_note_like tb_note_like(const char *a, const char *b);

#endif
