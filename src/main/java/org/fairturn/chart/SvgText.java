package org.fairturn.chart;

import java.util.Iterator;
import java.util.List;
import java.util.StringTokenizer;
import java.util.regex.Pattern;
import org.fairturn.units.Figures;

/** SVG written by hand: elements one after another, numbers to a hundredth of a user unit, text escaped. */
final class SvgText {
    static final String INK = "#1f2933";
    static final String QUIET = "#52606d";
    static final String GRID = "#dde3e9";
    static final String BAND = "#e3ebf3";
    static final String EDGE = "#829ab1";
    private static final Pattern END_ZEROS = Pattern.compile("\\.?0+$");

    private final StringBuilder out = new StringBuilder();

    /** Text that may stand in XML: characters it has no way to write become a question mark. */
    static String printable(String text) {
        StringBuilder clean = new StringBuilder();
        text.codePoints()
                .map(c -> c == '\t' || c == '\n' || c == '\r' ? ' ' : c)
                .map(c -> c < 0x20 || (c >= 0xD800 && c <= 0xDFFF) || c == 0xFFFE || c == 0xFFFF ? '?' : c)
                .forEach(clean::appendCodePoint);
        return clean.toString();
    }

    static String escaped(String text) {
        return printable(text)
                .replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;");
    }

    static String number(double value) {
        String text = Figures.fixed(value, 2);
        return END_ZEROS.matcher(text).replaceFirst("");
    }

    /** The data of a path straight down from a point. */
    static String upright(double x, double top, double bottom) {
        return "M" + SvgText.number(x) + " " + SvgText.number(top) + "V" + SvgText.number(bottom);
    }

    /**
     * Opens a drawing whose letters are this high, with its title and description; {@link #paper} comes next.
     *
     * @param name stem of its ids
     */
    SvgText drawing(String name, String title, String description, double width, double height, int letters) {
        open(
                "svg xmlns=http://www.w3.org/2000/svg viewBox={} role=img aria-labelledby={} font-family=sans-serif font-size={} fill={}",
                "0 0 " + number(width) + " " + number(height),
                name + "-title " + name + "-desc",
                letters,
                INK);
        return holding(title, "title id={}", name + "-title").holding(description, "desc id={}", name + "-desc");
    }

    /** The white sheet behind it all, so that a drawing can be read on a dark page too. */
    SvgText paper(double width, double height) {
        return leaf("rect data-part=paper width={} height={} fill=#ffffff", width, height);
    }

    /** An element without content; see {@link #open}. */
    SvgText leaf(String tag, Object... values) {
        open(tag, values);
        out.setLength(out.length() - 1);
        out.append("/>");
        return this;
    }

    /** An element that holds nothing but text; see {@link #open}. */
    SvgText holding(String text, String tag, Object... values) {
        open(tag, values);
        out.append(escaped(text));
        return close(tag.substring(0, (tag + " ").indexOf(' ')));
    }

    /**
     * Opens an element.
     *
     * @param tag its name and attributes, such as {@code circle cx={} cy={} r=4.5}
     * @param values one for each {@code {}}, in their order; doubles are rounded, text is escaped
     */
    SvgText open(String tag, Object... values) {
        Iterator<Object> next = List.of(values).iterator();
        StringTokenizer words = new StringTokenizer(tag);
        out.append(out.length() == 0 ? "" : "\n").append('<').append(words.nextToken());
        while (words.hasMoreTokens()) {
            String word = words.nextToken();
            int equals = word.indexOf('=');
            Object value = word.endsWith("={}") ? next.next() : word.substring(equals + 1);
            String text = value instanceof Double d ? number(d) : escaped(value.toString());
            out.append(' ').append(word, 0, equals).append("=\"").append(text).append('"');
        }
        out.append('>');
        return this;
    }

    SvgText close(String name) {
        out.append("</").append(name).append('>');
        return this;
    }

    @Override
    public String toString() {
        return out.toString();
    }
}
