/*
 * test_fibre_common.c - the ordinary names of the commonest fibres in the languages of the lists are known. Names: common practice, no
 * source.
 */
#include "tenterbook/fibre.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

/* Names of one fibre in all languages, divided by spaces; where a name has two words, by an underscore. */
static const struct {
    const char *fibre, *names;
} common[] = {
    { "cotton", "cotton Baumwolle coton algodón cotone algodão pamuk katoen bomuld bomull "
                "puuvilla bawełna bavlna pamut bumbac bombaž памук хлопок бавовна βαμβάκι "
                "βαμβακερό medvilnė kokvilna puuvill cadás 棉 纯棉 純棉 全棉 棉花 綿 コットン 면 코튼" },
    { "flax",
      "linen flax Leinen Flachs lin lino linho keten linnen vlas hør pellava len ľan "
      "ľanové lan лен лён льон λινό λινάρι linas lini lina 亚麻 亞麻 リネン 亜麻 린넨 리넨 아마 líon" },
    { "hemp", "hemp Hanf chanvre cáñamo canapa cânhamo kenevir hennep hamp hampa hamppu "
              "konopie konopí konopa kender cânepă konoplja коноп конопля καννάβι κάνναβη "
              "kanapė kaņepes kanep 大麻 汉麻 漢麻 ヘンプ 대마 헴프" },
    { "ramie", "ramie Ramie ramio rami ramia рами ραμί 苎麻 苧麻 ラミー 라미 모시" },
    { "jute", "jute Jute yute iuta juta jüt jut юта джут γιούτα džiutas džuta džuut juutti 黄麻 "
              "黃麻 ジュート 황마 주트" },
    { "viscose", "viscose Viskose rayon viscosa viskoz viskose viskos viskoosi wiskoza viskóza "
                 "viszkóz vâscoză viskoza вискоза віскоза βισκόζη viskozė viskoze viskoos 粘胶 黏胶 "
                 "粘膠 黏膠 嫘縈 嫘縈纖維 人棉 人造棉 人造絲 レーヨン ビスコース 레이온 비스코스" },
    { "modal", "modal modál модал μοντάλ modalas modāls modaal modaali 莫代尔 莫代爾 モダール モダル 모달" },
    { "lyocell", "lyocell liocel lyosel lyocel лиоцел лиоцелл лайоселл λυοσέλ liocelis liocels "
                 "莱赛尔 萊賽爾 天丝 天絲 リヨセル テンセル 라이오셀 텐셀" },
    { "cupro", "cupro Cupro kupro bemberg купро κούπρο 铜氨 銅氨 铜氨丝 銅氨絲 キュプラ 큐프라" },
    { "acetate", "acetate Acetat acétate acetato asetat acetaat acetat asetaatti octan acetát "
                 "ацетат οξικό acetatas acetāts atsetaat 醋酸纤维 醋酸纖維 醋酯纖維 アセテート 아세테이트" },
    { "wool", "wool Wolle Schurwolle laine lana lã yün wol uld ull villa wełna vlna gyapjú "
              "lână volna vuna вълна шерсть вовна μαλλί vilna vill 羊毛 ウール 울 양모 olann" },
    { "cashmere", "cashmere Kaschmir cachemire cachemir cachemira cashemira kaşmir kasjmier "
                  "kashmir kašmír kasmír kaszmir cașmir kašmir кашмир кашемир κασμίρ kašmyras "
                  "kašmirs kašmiir 山羊绒 羊绒 羊絨 山羊絨 喀什米爾 カシミヤ カシミア 캐시미어" },
    { "mohair", "mohair Mohair moher tiftik mohér мохер μοχέρ μοχαίρ mohera mohairs "
                "mohäär 马海毛 馬海毛 モヘヤ モヘア 모헤어" },
    { "alpaca", "alpaca Alpaka alpaga alpaka alpakka алпака альпака αλπακά αλπάκα alpakas 羊驼毛 "
                "羊駝毛 アルパカ 알파카" },
    { "angora", "angora Angora angóra ангора ανκορά ανγκορά ανγκόρα 兔毛 安哥拉兔毛 アンゴラ 앙고라" },
    { "camel", "camel Kamelhaar chameau camello cammello camelo deve_tüyü kameel kamel kameli "
               "wielbłąd velbloud ťava teve cămilă kamela камила καμήλα kupranugaris kamielis "
               "kaamel 驼毛 駝毛 骆驼绒 駱駝毛 キャメル 낙타털" },
    { "silk", "silk Seide soie seda seta ipek zijde silke siden silkki jedwab hedvábí hodváb "
              "selyem mătase svila коприна шелк шёлк шовк μετάξι μεταξωτό šilkas zīds siid "
              "桑蚕丝 蚕丝 真丝 桑蠶絲 蠶絲 真絲 絹 シルク 실크 견 síoda ħarir" },
    { "nylon", "nylon polyamide Polyamid nailon poliamida poliammide naylon poliamid polyamidi "
               "polyamid poliamidă najlon полиамид поліамід найлон нейлон капрон πολυαμίδη "
               "νάιλον νάυλον poliamidas nailonas poliamīds neilons polüamiid 锦纶 錦綸 尼龙 尼龍 耐綸 "
               "聚酰胺 聚醯胺 ナイロン ポリアミド 나일론 폴리아미드" },
    { "polyester", "polyester Polyester poliéster poliestere poliester polyesteri poliészter "
                   "полиестер полиэстер поліестер πολυεστέρας πολυέστερ poliesteris poliesters "
                   "polüester 涤纶 滌綸 聚酯 聚酯纤维 聚酯纖維 涤 特多龍 ポリエステル 폴리에스터 "
                   "폴리에스테르 poileistear" },
    { "acrylic", "acrylic Polyacryl Acryl acrylique acrílico acrilica acrilico acrílica akrilik "
                 "acryl akryl akryyli akril acril acrilic акрил ακρυλικό akrilas akrils akrüül "
                 "腈纶 腈綸 亚克力 亞克力 壓克力 聚丙烯腈 アクリル 아크릴" },
    { "modacrylic", "modacrylic Modacryl modacrylique modacrílica modacrilica modacrílico "
                    "modakrilik modacryl modakryl modakryyli modakril modacril модакрил μοντακρίλ "
                    "modakrils 改性腈纶 改性腈綸 腈氯纶 モダクリル 모다크릴" },
    { "elastane", "elastane spandex Elasthan élasthanne elastano elastan elastaani elasztán "
                  "еластан эластан спандекс лайкра ελαστάνη ελαστάν λύκρα elastanas elastāns "
                  "elastaan 氨纶 氨綸 彈性纖維 弹性纤维 スパンデックス 엘라스탄 스판덱스 스판" },
    { "polypropylene", "polypropylene Polypropylen polypropylène polipropileno polipropilene "
                       "polipropilen polypropyleen polypropeeni polipropylen polypropylén polipropilén "
                       "polipropilenă полипропилен поліпропілен πολυπροπυλένιο polipropilenas "
                       "polipropilēns polüpropüleen 丙纶 丙綸 聚丙烯 ポリプロピレン 폴리프로필렌" },
    { "polyethylene",
      "polyethylene Polyethylen polyéthylène polietileno polietilene polietilen "
      "polyetheen polyeteeni polietylen polyetylén polietilén полиетилен полиэтилен "
      "поліетилен πολυαιθυλένιο polietilenas polietilēns polüetüleen 乙纶 乙綸 聚乙烯 ポリエチレン "
      "폴리에틸렌" },
    { "metallic", "metallic Metall métallique metálico metallo metalik metal metallinen metalické "
                  "fém metalic металик μεταλλικό metall 金属丝 金屬絲 金属纤维 金屬纖維 金属糸 금속사" },
    { "triacetate", "triacetate Triacetat triacétate triacetato triasetat triacetaat triacetat "
                    "triasetaatti trójoctan triacetát триацетат τριοξικό triacetatas triacetāts "
                    "triatsetaat 三醋酸纤维 三醋酸纖維 トリアセテート 트리아세테이트" },
    { "polylactide", "polylactide PLA Polylactid polilactida 聚乳酸 ポリ乳酸 폴리락타이드" },
    { "aramid", "aramid Aramid aramide aramida aramidi арамид αραμίδιο aramīds aramiid 芳纶 芳綸 "
                "アラミド 아라미드" },
};

static bool reads_as(const char *text, size_t n, int fibre)
{
    struct tb_declaration d;
    bool is;

    tb_declaration_read(&d, text, n);
    is = d.comp.n == 1 && tb_part_percent(&d.comp.part[0], fibre) == 100;
    tb_declaration_free(&d);
    return is;
}

static void the_ordinary_names_of_the_commonest_fibres_are_known(void **state)
{
    size_t unknown = 0;

    (void)state;
    for (size_t i = 0; i < TB_COUNT(common); i++) {
        int fibre = tb_fibre_by_key(common[i].fibre);

        assert_true(fibre >= 0);
        for (const char *s = common[i].names; *s; s += strspn(s, " ")) {
            size_t n = strcspn(s, " ");
            struct tb_text t = { 0 };

            tb_text_addf(&t, "100%% %.*s", (int)n, s);
            for (char *c = t.s; *c; c++)
                *c = *c == '_' ? ' ' : *c;
            if (!reads_as(t.s, t.n, fibre)) {
                print_error("%s is not %s\n", t.s, common[i].fibre);
                unknown++;
            }
            tb_text_free(&t);
            s += n;
        }
    }
    assert_int_equal(unknown, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_ordinary_names_of_the_commonest_fibres_are_known),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
