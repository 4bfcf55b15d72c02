package org.fairturn.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import org.fairturn.units.Figures;
import org.knowm.xchart.AnnotationText;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.XYSeries;
import org.knowm.xchart.XYSeries.XYSeriesRenderStyle;
import org.knowm.xchart.style.markers.SeriesMarkers;

/**
 * A chart with a line of its own for each estimate, one below the other: name and numbers above, interval and points
 * below. Rows instead of columns, so that names keep their full length on a phone.
 */
final class Forest {
    private static final int AXIS = 74;
    private static final int HEADING = 32;
    private static final int BARE_ROW = 43;
    private static final int ROW_WITH_POINTS = 58;
    /** Narrowest range of the axis (m), so that equal numbers do not blow a micrometre up to the full width. */
    private static final double LEAST_RANGE = 0.04;

    private final Shown shown;
    private final String axisTitle;
    private final OptionalDouble margin;
    private final List<Row> rows = new ArrayList<>();

    /** One line; heading first where it starts a group. Lengths in metres. */
    record Row(
            String heading,
            String name,
            String numbers,
            double estimate,
            double low,
            double high,
            List<Double> points,
            Look.Style style,
            boolean strong) {
        int height() {
            return (heading.isEmpty() ? 0 : HEADING) + (points.isEmpty() ? BARE_ROW : ROW_WITH_POINTS);
        }
    }

    /** @param margin half-width of the band around zero (m), where there is one */
    Forest(Shown shown, String axisTitle, OptionalDouble margin) {
        this.shown = shown;
        this.axisTitle = axisTitle;
        this.margin = margin;
    }

    void add(Row row) {
        rows.add(row);
    }

    int height() {
        return rows.stream().mapToInt(Row::height).sum() + AXIS;
    }

    XYChart chart() {
        int depth = height() - AXIS;
        XYChart chart = Look.chart(height());
        chart.setXAxisTitle(axisTitle);
        double[] range = range();
        var styler = chart.getStyler();
        styler.setYAxisTicksVisible(false).setYAxisTitleVisible(false).setPlotGridHorizontalLinesVisible(false);
        styler.setXAxisMin(range[0]).setXAxisMax(range[1]).setYAxisMin(0.0).setYAxisMax((double) depth);
        int decimals = Figures.decimalsFor(range[1] - range[0]);
        styler.setXAxisTickLabelsFormattingFunction(value -> Figures.typeset(value, decimals));
        margin.ifPresent(half -> band(chart, shown.amount(half), depth));
        int y = depth;
        for (int i = 0; i < rows.size(); i++) {
            Row row = rows.get(i);
            if (!row.heading.isEmpty()) {
                chart.addAnnotation(new Words(y - HEADING + 8, row.heading, "", Look.BOLD));
                y -= HEADING;
            }
            chart.addAnnotation(new Words(y - 16, row.name, row.numbers, row.strong ? Look.BOLD : Look.PLAIN));
            String key = "row" + i;
            int foot = y - (row.points.isEmpty() ? BARE_ROW : ROW_WITH_POINTS);
            interval(chart, key, row, y - 29);
            if (!row.points.isEmpty()) {
                double[] x = row.points.stream().mapToDouble(shown::amount).toArray();
                dots(chart, key + "points", x, y - 44, row.style.colour(), Glyph.hollow(row.style.shape()));
            }
            y = foot;
        }
        return chart;
    }

    private double[] range() {
        double[] values = rows.stream()
                .flatMapToDouble(row -> DoubleStream.concat(
                        DoubleStream.of(row.estimate, row.low, row.high),
                        row.points.stream().mapToDouble(Double::doubleValue)))
                .toArray();
        double half = margin.orElse(0);
        double low = DoubleStream.of(values).min().orElseThrow();
        double high = DoubleStream.of(values).max().orElseThrow();
        if (margin.isPresent()) {
            low = Math.min(low, -half);
            high = Math.max(high, half);
        }
        double pad = Math.max(0.05 * (high - low), (LEAST_RANGE - (high - low)) / 2);
        return new double[] {shown.amount(low - pad), shown.amount(high + pad)};
    }

    private static void band(XYChart chart, double half, int depth) {
        XYSeries band =
                chart.addSeries("band", new double[] {-half, half, half, -half}, new double[] {0, 0, depth, depth});
        band.setXYSeriesRenderStyle(XYSeriesRenderStyle.PolygonArea);
        band.setMarker(SeriesMarkers.NONE).setLineColor(Look.BAND).setFillColor(Look.BAND);
        upright(chart, "low edge", -half, depth, Look.stroke(1.2, 5, 4), Look.EDGE);
        upright(chart, "high edge", half, depth, Look.stroke(1.2, 5, 4), Look.EDGE);
        upright(chart, "zero", 0, depth, Look.stroke(1.6), Look.EDGE);
    }

    private static void upright(XYChart chart, String key, double x, int depth, BasicStroke stroke, Color colour) {
        XYSeries line = chart.addSeries(key, new double[] {x, x}, new double[] {0, depth});
        line.setMarker(SeriesMarkers.NONE).setLineStyle(stroke).setLineColor(colour);
    }

    private void interval(XYChart chart, String key, Row row, int y) {
        double low = shown.amount(row.low);
        double high = shown.amount(row.high);
        Color colour = row.style.colour();
        XYSeries bar = chart.addSeries(key + "interval", new double[] {low, high}, new double[] {y, y});
        bar.setMarker(SeriesMarkers.NONE)
                .setLineStyle(Look.stroke(row.strong ? 3.5 : 2.2))
                .setLineColor(colour);
        for (double end : new double[] {low, high}) {
            XYSeries cap = chart.addSeries(
                    key
                            + (end == low ? "low" : "high")
                            + chart.getSeriesCollection().size(),
                    new double[] {end, end},
                    new double[] {y - 6, y + 6});
            cap.setMarker(SeriesMarkers.NONE).setLineStyle(Look.stroke(2.2)).setLineColor(colour);
        }
        double[] estimate = {shown.amount(row.estimate)};
        dots(chart, key + "estimate", estimate, y, colour, Glyph.filled(row.style.shape()));
    }

    private static void dots(XYChart chart, String key, double[] x, int y, Color colour, Glyph glyph) {
        double[] level = new double[x.length];
        Arrays.fill(level, y);
        XYSeries dots = chart.addSeries(key, x, level).setXYSeriesRenderStyle(XYSeriesRenderStyle.Scatter);
        dots.setMarker(glyph).setMarkerColor(colour);
    }

    /** Words on the left and numbers on the right of the plot, with their baseline at a height of the chart. */
    private static final class Words extends AnnotationText {
        private final String left;
        private final String right;
        private final Font font;

        Words(int level, String left, String right, Font font) {
            super(left, 0, level, false);
            this.left = left;
            this.right = right;
            this.font = font;
        }

        @Override
        public void paint(Graphics2D g) {
            double from = getXAxisScreenValueForMin();
            double to = getXAxisScreenValueForMax();
            double baseline = chart.getScreenYFromChart(y);
            double numbers = Look.width(g, right, Look.PLAIN);
            Look.textUpTo(g, right, to, baseline, to - from, Look.PLAIN, Look.INK);
            Look.text(g, left, from, baseline, to - from - numbers - 12, font, Look.INK);
        }
    }
}
