package org.fairturn.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.font.TextLayout;
import java.awt.geom.AffineTransform;
import java.util.List;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.style.AxesChartStyler.TextAlignment;
import org.knowm.xchart.style.Styler.ChartTheme;

/** What all charts look like: paper, ink, letters, and a colour, shape and dash for each series. */
final class Look {
    static {
        // Drawing needs no screen, yet a DISPLAY that cannot be reached would end the program. Java looks at this
        // once, when the first font or colour is made: so it stands before those below, and other classes take
        // theirs from here.
        if (System.getProperty("java.awt.headless") == null) {
            System.setProperty("java.awt.headless", "true");
        }
    }

    static final int WIDTH = 480;
    static final int MARGIN = 14;
    static final Color INK = new Color(0x1F2933);
    static final Color QUIET = new Color(0x52606D);
    static final Color GRID = new Color(0xDDE3E9);
    static final Color BAND = new Color(0xE3EBF3);
    static final Color EDGE = new Color(0x829AB1);
    static final Font PLAIN = new Font(Font.SANS_SERIF, Font.PLAIN, 15);
    static final Font BOLD = new Font(Font.SANS_SERIF, Font.BOLD, 15);
    static final Font TITLE = new Font(Font.SANS_SERIF, Font.BOLD, 18);
    static final float[][] DASHES = {{}, {8, 4}, {2, 4}, {10, 4, 2, 4}, {14, 5}};

    /** Set of eight colours for colour-blind readers, yellow left out (Okabe and Ito, 2008; values from memory). */
    private static final List<Color> COLOURS = List.of(
            new Color(0x0072B2),
            new Color(0xD55E00),
            new Color(0x009E73),
            new Color(0xB5609A), // reddish purple and orange a shade darker than in the set: thin lines on white
            new Color(0x333333),
            new Color(0xC98500),
            new Color(0x3A9BDC),
            new Color(0x7A4B1E)); // brown, not of the set: two machines of four cells make eight

    private Look() {}

    /** Colour, shape and dash of a series; the first 24 all differ in colour or shape. */
    record Style(Color colour, Glyph.Shape shape, BasicStroke line) {
        static Style of(int index) {
            Glyph.Shape[] shapes = Glyph.Shape.values();
            float[] dash = DASHES[index % DASHES.length];
            return new Style(COLOURS.get(index % COLOURS.size()), shapes[index % shapes.length], stroke(2, dash));
        }
    }

    static BasicStroke stroke(double width, float... dash) {
        return dash.length == 0
                ? new BasicStroke((float) width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND)
                : new BasicStroke((float) width, BasicStroke.CAP_BUTT, BasicStroke.JOIN_ROUND, 10, dash, 0);
    }

    /** An empty chart in this look, without title and legend: those are drawn by {@link #text}, flush left. */
    static XYChart chart(int height) {
        XYChart chart = new XYChart(WIDTH, height, ChartTheme.XChart);
        var styler = chart.getStyler();
        styler.setChartTitleVisible(false)
                .setLegendVisible(false)
                .setChartBackgroundColor(Color.WHITE)
                .setPlotBackgroundColor(Color.WHITE)
                .setPlotBorderVisible(false)
                .setChartFontColor(INK)
                .setChartPadding(MARGIN)
                .setPlotContentSize(1)
                .setMarkerSize(10);
        styler.setAxisTickLabelsFont(PLAIN)
                .setAxisTitleFont(PLAIN)
                .setAxisTickLabelsColor(INK)
                .setAxisTicksLineVisible(false)
                .setAxisTicksMarksVisible(false)
                .setAxisTickPadding(6)
                .setAxisTitlePadding(8)
                .setXAxisLabelAlignmentVertical(TextAlignment.Left) // on one foot, or a 4 stands higher than a 6
                .setPlotGridLinesColor(GRID)
                .setPlotGridLinesStroke(stroke(1))
                .setPlotMargin(0)
                .setXAxisTickMarkSpacingHint(70);
        return chart;
    }

    /** A line of text with its baseline at y, cut with an ellipsis where it is wider than the room. */
    static void text(Graphics2D g, String text, double x, double y, double room, Font font, Color ink) {
        String fitted = fitted(g, text, room, font);
        words(g, fitted, x, y, width(g, fitted, font), room, font, ink, "start");
    }

    /** The same, ending at x. */
    static void textUpTo(Graphics2D g, String text, double x, double y, double room, Font font, Color ink) {
        String fitted = fitted(g, text, room, font);
        words(g, fitted, x, y, width(g, fitted, font), room, font, ink, "end");
    }

    private static void words(
            Graphics2D g,
            String text,
            double x,
            double y,
            double width,
            double room,
            Font font,
            Color ink,
            String anchor) {
        if (text.isEmpty()) {
            return;
        }
        g.setColor(ink);
        if (g instanceof SvgCanvas svg) {
            svg.words(text, x, y, width, room, font, anchor);
        } else {
            g.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
            double left = anchor.equals("end") ? x - width : x;
            g.fill(layout(g, text, font).getOutline(AffineTransform.getTranslateInstance(left, y)));
        }
    }

    static double width(Graphics2D g, String text, Font font) {
        return text.isEmpty() ? 0 : layout(g, text, font).getAdvance();
    }

    private static TextLayout layout(Graphics2D g, String text, Font font) {
        return new TextLayout(text, font, g.getFontRenderContext());
    }

    /** As much of a text as there is room for, with an ellipsis where that is not all. */
    static String fitted(Graphics2D g, String text, double room, Font font) {
        String line = text;
        int end = text.length();
        while (width(g, line, font) > room && end > 1) {
            end = text.offsetByCodePoints(end, -1);
            line = text.substring(0, end).stripTrailing() + "…";
        }
        return line;
    }
}
