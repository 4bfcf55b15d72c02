package org.fairturn.chart;

import java.util.Iterator;
import java.util.List;
import java.util.StringTokenizer;
import java.util.regex.Pattern;
import org.fairturn.units.Figures;

/** SVG written by hand: elements one after another, numbers to a hundredth of a user unit, text escaped. */
final class SvgText {
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
