#include "intake_helper.h"

static void a_german_list_with_title_subtotals_and_ditto_marks_is_taken(void **state)
{
    (void)state;
    taken("Weberei Sonnental;;;;;;;\n"
          "Lieferschein-Nr.: LS-4711;;Datum:;13.03.2026;;;;\n"
          "Lieferant;Weberei Sonnental;;;;;;\n"
          "TKG: 73 % Viskose, 27 % Polypropylen;;;;;;;\n"
          "\n"
          "Artikel-Nr.;Farbe;Partie;Stück-Nr.;Länge (m);Breite cm;Gewicht;Preis EUR/m\n"
          "A100;Navy;P77;00123;50,20;150;208,000 Gramm/Quadratmeter;4,50\n"
          "A100;Navy;P77;00124;1.051,7;150;208,000 Gramm/Quadratmeter;4,50\n"
          "Zwischensumme;;;2;1.101,90;;;\n"
          "A100;Rot;P78;12/3;49,00;150;208,000 Gramm/Quadratmeter;4,50\n"
          "〃;〃;〃;12/4;50,2+49,8;150;208,000 Gramm/Quadratmeter;4,50\n"
          "Summe;;;2;149,00;;;\n"
          "Gesamt;;;4;1.250,90;;;\n",
          NULL,
          "D Weberei Sonnental|LS-4711||2026-03-13\n"
          "L A100|Navy|P77|73 % Viskose, 27 % Polypropylen|title||4.50 EUR/m\n"
          "L A100|Rot|P78|73 % Viskose, 27 % Polypropylen|title||4.50 EUR/m\n"
          "B 0:00123|50.20|150.0 cm|208.0 g/m2\n"
          "B 0:00124|1051.70|150.0 cm|208.0 g/m2\n"
          "B 1:12/3|49.00|150.0 cm|208.0 g/m2\n"
          "B 1:12/4|100.00|150.0 cm|208.0 g/m2|50,2+49,8 m\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_german_list_with_title_subtotals_and_ditto_marks_is_taken),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
