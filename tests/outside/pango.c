/* Bisects the scale of inscriptions with Pango's own layout, for comparison.
 *
 * Arguments: family of the face. Reads from standard input, for each wording, a line
 *   width height lines        (mm, mm, count)
 * and for each of its lines
 *   ratio floor ceiling rise depth leading space cap_em<TAB>text
 * (mm of cap height; rise, depth, leading and space in cap heights; cap height in em).
 * Writes first the versions, then for each wording
 *   scale rows microseconds   (scale 0 where nothing fits at the floors)
 *
 * Each line is one PangoLayout at a size of 1000 pixels to the em, wrapped at words to
 * the width that the field has at the line's height; metrics are neither hinted nor
 * rounded. A scale fits if no row's ink is wider than the field and the block is no
 * higher: the white between rows is ansata's rule, worked out here once more. Time is
 * the median of several runs with fonts and layouts kept.
 */
#include <fontconfig/fontconfig.h>
#include <hb.h>
#include <pango/pangofc-fontmap.h>
#include <pango/pangoft2.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define EM 1000.0
#define HALVINGS 20
#define RUNS 7
#define MOST_LINES 64
#define ALLOWED 1e-9

typedef struct {
  double ratio, floor, ceiling, rise, depth, leading, space, cap_em;
  PangoLayout *layout;
} Line;

static Line lines[MOST_LINES];
static int count;
static double width, height;

static double least(double a, double b) { return a < b ? a : b; }
static double most(double a, double b) { return a > b ? a : b; }

static double cap_height(const Line *line, double scale) {
  return most(least(line->ratio * scale, line->ceiling), least(line->floor, line->ceiling));
}

static double white(const Line *a, double h_a, const Line *b, double h_b, int starts) {
  double lambda = (a->leading + b->leading) / 2, mean = (h_a + h_b) / 2;
  double asked = (lambda - 1) * mean + (starts ? b->space * mean : 0);
  double kept = a->depth * h_a + (b->rise - 1) * h_b + most(0.10 * least(h_a, h_b), 0.3);
  return most(asked, kept);
}

static int fits(double scale, int *rows) {
  double block = 0;
  *rows = 0;
  for (int i = 0; i < count; i++) {
    Line *line = &lines[i];
    double h = cap_height(line, scale);
    /* The field's width in Pango units at this height. */
    double room = width / h * line->cap_em * EM * PANGO_SCALE;
    pango_layout_set_width(line->layout, (int)room);
    int own = 0;
    for (GSList *at = pango_layout_get_lines_readonly(line->layout); at; at = at->next) {
      PangoRectangle ink;
      pango_layout_line_get_extents(at->data, &ink, NULL);
      if (ink.width > room + 1) return 0;
      own++;
    }
    *rows += own;
    if (i == 0)
      block += line->rise * h;
    else
      block += white(&lines[i - 1], cap_height(&lines[i - 1], scale), line, h, 1) + h;
    block += (own - 1) * (white(line, h, line, h, 0) + h);
    if (i == count - 1) block += line->depth * h;
  }
  return block <= height + ALLOWED;
}

static double limit(int *rows) {
  double low = 0, high = 0;
  for (int i = 0; i < count; i++) high = most(high, lines[i].ceiling / lines[i].ratio);
  if (fits(high, rows)) return high;
  if (!fits(low, rows)) return 0;
  for (int i = 0; i < HALVINGS; i++) {
    double middle = (low + high) / 2;
    if (fits(middle, rows)) low = middle; else high = middle;
  }
  fits(low, rows);
  return low;
}

static int by_size(const void *a, const void *b) {
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

static void unhinted(FcPattern *pattern, gpointer nothing) {
  (void)nothing;
  FcPatternAddBool(pattern, FC_HINTING, FcFalse);
}

int main(int argc, char **argv) {
  if (argc != 2) return fprintf(stderr, "usage: pango FAMILY < wordings\n"), 2;
  PangoFontMap *map = pango_ft2_font_map_new();
  pango_fc_font_map_set_default_substitute(PANGO_FC_FONT_MAP(map), unhinted, NULL, NULL);
  PangoContext *context = pango_font_map_create_context(map);
  pango_context_set_round_glyph_positions(context, FALSE);
  pango_context_set_language(context, pango_language_from_string("en"));
  PangoFontDescription *face = pango_font_description_from_string(argv[1]);
  pango_font_description_set_absolute_size(face, EM * PANGO_SCALE);
  PangoFont *font = pango_context_load_font(context, face);
  PangoFontDescription *found = font ? pango_font_describe(font) : NULL;
  if (!found || strcmp(pango_font_description_get_family(found), argv[1]))
    return fprintf(stderr, "fontconfig has no face `%s`\n", argv[1]), 2;
  printf("Pango %s, HarfBuzz %s, fontconfig %d\n", pango_version_string(), hb_version_string(), FcGetVersion());

  static char text[65536];
  while (scanf("%lf %lf %d", &width, &height, &count) == 3) {
    if (count < 1 || count > MOST_LINES) return fprintf(stderr, "bad number of lines\n"), 2;
    for (int i = 0; i < count; i++) {
      Line *line = &lines[i];
      if (scanf("%lf %lf %lf %lf %lf %lf %lf %lf\t%65535[^\n]", &line->ratio, &line->floor, &line->ceiling,
                &line->rise, &line->depth, &line->leading, &line->space, &line->cap_em, text) != 9)
        return fprintf(stderr, "bad line\n"), 2;
      line->layout = pango_layout_new(context);
      pango_layout_set_font_description(line->layout, face);
      pango_layout_set_wrap(line->layout, PANGO_WRAP_WORD);
      pango_layout_set_text(line->layout, text, -1);
    }
    double took[RUNS], scale = 0;
    int rows = 0;
    for (int run = 0; run < RUNS; run++) {
      struct timespec from, to;
      clock_gettime(CLOCK_MONOTONIC, &from);
      scale = limit(&rows);
      clock_gettime(CLOCK_MONOTONIC, &to);
      took[run] = (to.tv_sec - from.tv_sec) * 1e6 + (to.tv_nsec - from.tv_nsec) / 1e3;
    }
    qsort(took, RUNS, sizeof *took, by_size);
    printf("%.9f %d %.1f\n", scale, rows, took[RUNS / 2]);
    for (int i = 0; i < count; i++) g_object_unref(lines[i].layout);
  }
  return 0;
}
