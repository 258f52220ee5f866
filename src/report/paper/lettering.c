/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/paper/lettering.h"

#ifndef HB_WITH_PDF

typedef int hb_lettering_without_pdf; /* a file must not be empty */

#else

double hb_lettering_lay(PangoLayout *layout, const char *text, double size, bool bold, double width)
{
    int height;
    PangoFontDescription *font = pango_font_description_new();
    pango_font_description_set_family(font, "DejaVu Sans, Liberation Sans, sans-serif");
    pango_font_description_set_weight(font, bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font, size * PANGO_SCALE);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    pango_layout_set_width(layout, (int)(width * PANGO_SCALE));
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_text(layout, text, -1);
    pango_layout_get_size(layout, NULL, &height);
    return (double)height / PANGO_SCALE;
}

double hb_lettering_put(cairo_t *cairo, PangoLayout *layout, double x, double y, const char *text,
                        double size, bool bold, double width)
{
    const double height = hb_lettering_lay(layout, text, size, bold, width);
    cairo_move_to(cairo, x, y);
    pango_cairo_show_layout(cairo, layout);
    return height;
}

void hb_lettering_keep(const char *text, char *buf, size_t size)
{
    static const char no_break[] = "\u00A0";
    size_t used = 0;
    for (size_t i = 0; text[i] && used + sizeof no_break < size; i++) {
        const bool number = i > 0 && text[i] == ' ' && text[i - 1] >= '0' && text[i - 1] <= '9';
        if (number) {
            memcpy(buf + used, no_break, sizeof no_break - 1);
            used += sizeof no_break - 1;
        } else {
            buf[used++] = text[i];
        }
    }
    buf[used] = '\0';
}

#endif
