package org.fairturn.report;

import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import org.fairturn.chart.Drawing;

/**
 * A drawing with its numbers in a table beside it.
 *
 * @param heading short heading
 * @param lead one sentence on how to read it
 * @param drawing the picture
 */
public record Figure(String heading, String lead, Drawing drawing) {
    private static final double WIDEST = 87;
    private static final double TALLEST = 215;
    private static final Pattern SIZE = Pattern.compile("viewBox=\"0 0 ([\\d.]+) ([\\d.]+)\"");
    /** Letters with a pale rim, which stand on the rim only where the reader knows paint-order. */
    private static final Pattern RIMMED = Pattern.compile("<text ([^>]*paint-order=\"stroke\"[^>]*)>([^<]*)</text>");

    private static final Pattern RIM =
            Pattern.compile(" ?(paint-order|stroke|stroke-width|stroke-linejoin)=\"[^\"]*\"");

    /**
     * {@return the drawing for a page of paper: as large as the page allows, its description as the text that stands in for
     * it}
     */
    public String printed() {
        Matcher size = SIZE.matcher(drawing.svg());
        if (!size.find()) {
            throw new IllegalStateException(drawing.name() + " has no size");
        }
        double ratio = Double.parseDouble(size.group(2)) / Double.parseDouble(size.group(1));
        double width = Math.min(WIDEST, TALLEST / ratio);
        String alt = escaped(drawing.title() + ". " + drawing.description());
        String svg = RIMMED.matcher(drawing.svg()).replaceAll(text -> {
            String filled = "<text " + RIM.matcher(text.group(1)).replaceAll("") + ">" + text.group(2) + "</text>";
            return Matcher.quoteReplacement(text.group().replace("paint-order=\"stroke\"", "") + filled);
        });
        return "<svg title=\"" + escaped(drawing.title()) + "\" alt=\"" + alt + "\" width=\"" + Math.round(width)
                + "mm\" height=\"" + Math.round(width * ratio) + "mm\" " + svg.substring("<svg ".length());
    }

    static List<List<Figure>> pairs(List<Figure> figures) {
        return IntStream.range(0, (figures.size() + 1) / 2)
                .mapToObj(i -> figures.subList(2 * i, Math.min(2 * i + 2, figures.size())))
                .toList();
    }

    private static String escaped(String text) {
        return text.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;");
    }
}
