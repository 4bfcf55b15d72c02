package org.fairturn.chart;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A finished drawing.
 *
 * @param name short name, lower case without blanks, for file names and as the stem of every id inside the SVG
 * @param title one line that says what is shown
 * @param description whole sentences that say what is shown and what was found, numbers included
 * @param svg an {@code <svg>} element without width or height, ready to stand in a page
 * @param png the same picture at twice the size, where it was made
 */
public record Drawing(String name, String title, String description, String svg, Optional<byte[]> png) {
    private static final Pattern SIZE = Pattern.compile("viewBox=\"0 0 ([0-9]+)[0-9.]* ([0-9]+)[0-9.]*\"");

    /**
     * Keeps its own copy of the PNG.
     *
     * @param name short name, lower case without blanks, for file names and as the stem of every id inside the SVG
     * @param title one line that says what is shown
     * @param description whole sentences that say what is shown and what was found, numbers included
     * @param svg an {@code <svg>} element without width or height, ready to stand in a page
     * @param png the same picture at twice the size, where it was made
     */
    public Drawing {
        png = png.map(byte[]::clone);
    }

    /** {@return a copy of the PNG; empty where there is none} */
    @Override
    public Optional<byte[]> png() {
        return png.map(byte[]::clone);
    }

    /** {@return the SVG as the text of a file of its own, to be written as UTF-8} */
    public String svgFile() {
        return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + svg + "\n";
    }

    /** {@return its width, in the units of its own coordinates: with the height, the shape of the room to keep for it} */
    public int width() {
        return side(1);
    }

    /** {@return its height, in the same units} */
    public int height() {
        return side(2);
    }

    private int side(int group) {
        Matcher size = SIZE.matcher(svg);
        if (!size.find()) {
            throw new IllegalStateException(name + " has no viewBox that begins at 0 0");
        }
        return Integer.parseInt(size.group(group));
    }

    /**
     * {@return a text that takes no more room than there is: what is too long ends in an ellipsis}
     *
     * @param text in any script
     * @param most how many characters there is room for, 1 or more, one outside Unicode's first plane counting once
     */
    public static String cut(String text, int most) {
        int count = text.codePointCount(0, text.length());
        return count <= most
                ? text
                : text.substring(0, text.offsetByCodePoints(0, most - 1)).stripTrailing() + "…";
    }
}
