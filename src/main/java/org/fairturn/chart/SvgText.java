package org.fairturn.chart;

import org.fairturn.units.Figures;

/** SVG written by hand: elements one after another, numbers to a hundredth of a user unit, text escaped. */
final class SvgText {
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
        return text.replaceFirst("\\.?0+$", "");
    }

    /** An element without content; attributes are names and values in turn, doubles rounded, text escaped. */
    SvgText leaf(String name, Object... attributes) {
        open(name, attributes);
        out.setLength(out.length() - 1);
        out.append("/>");
        return this;
    }

    /** An element that holds nothing but text. */
    SvgText holding(String text, String name, Object... attributes) {
        open(name, attributes);
        out.append(escaped(text));
        return close(name);
    }

    SvgText open(String name, Object... attributes) {
        out.append(out.length() == 0 ? "" : "\n").append('<').append(name);
        for (int i = 0; i < attributes.length; i += 2) {
            Object value = attributes[i + 1];
            String text = value instanceof Double d ? number(d) : escaped(value.toString());
            out.append(' ').append(attributes[i]).append("=\"").append(text).append('"');
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
