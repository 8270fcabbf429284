/* Lays out single rows with Pango and prints their glyphs, for comparison.
 *
 * Arguments: families in the order in which they are tried, parted by commas. Reads from
 * standard input lines of
 *   language<TAB>text
 * and writes first the versions, then for each text a line of
 *   family<TAB>glyph<TAB>byte<TAB>x
 * for each glyph from left to right, and an empty line. Bytes are where the characters of
 * a glyph begin; x is its origin at 1000 to the em. Neither hinted nor rounded.
 */
#include <fontconfig/fontconfig.h>
#include <hb.h>
#include <pango/pangofc-fontmap.h>
#include <pango/pangoft2.h>
#include <stdio.h>
#include <string.h>

#define EM 1000.0

static void unhinted(FcPattern *pattern, gpointer nothing) {
  (void)nothing;
  FcPatternAddBool(pattern, FC_HINTING, FcFalse);
}

int main(int argc, char **argv) {
  if (argc != 2) return fprintf(stderr, "usage: text FAMILIES < texts\n"), 2;
  PangoFontMap *map = pango_ft2_font_map_new();
  pango_fc_font_map_set_default_substitute(PANGO_FC_FONT_MAP(map), unhinted, NULL, NULL);
  PangoContext *context = pango_font_map_create_context(map);
  pango_context_set_round_glyph_positions(context, FALSE);
  PangoFontDescription *faces = pango_font_description_new();
  pango_font_description_set_family(faces, argv[1]);
  pango_font_description_set_absolute_size(faces, EM * PANGO_SCALE);
  printf("Pango %s, HarfBuzz %s, fontconfig %d\n", pango_version_string(), hb_version_string(), FcGetVersion());

  static char row[65536];
  while (fgets(row, sizeof row, stdin)) {
    row[strcspn(row, "\n")] = 0;
    char *text = strchr(row, '\t');
    if (!text) return fprintf(stderr, "bad line\n"), 2;
    *text++ = 0;
    pango_context_set_language(context, pango_language_from_string(row));
    PangoLayout *layout = pango_layout_new(context);
    pango_layout_set_font_description(layout, faces);
    pango_layout_set_single_paragraph_mode(layout, TRUE);
    pango_layout_set_text(layout, text, -1);
    PangoLayoutLine *line = pango_layout_get_line_readonly(layout, 0);
    double pen = 0;
    for (GSList *at = line->runs; at; at = at->next) {
      PangoLayoutRun *run = at->data;
      PangoFontDescription *found = pango_font_describe(run->item->analysis.font);
      for (int i = 0; i < run->glyphs->num_glyphs; i++) {
        PangoGlyphInfo *glyph = &run->glyphs->glyphs[i];
        printf("%s\t%u\t%d\t%.3f\n", pango_font_description_get_family(found), glyph->glyph,
               run->item->offset + run->glyphs->log_clusters[i],
               (pen + glyph->geometry.x_offset) / PANGO_SCALE);
        pen += glyph->geometry.width;
      }
      pango_font_description_free(found);
    }
    printf("\n");
    g_object_unref(layout);
  }
  return 0;
}
