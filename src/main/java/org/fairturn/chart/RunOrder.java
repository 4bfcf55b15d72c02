package org.fairturn.chart;

import java.awt.Graphics2D;
import java.awt.geom.Line2D;
import java.util.List;
import org.fairturn.units.Figures;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.XYSeries.XYSeriesRenderStyle;
import org.knowm.xchart.style.markers.SeriesMarkers;

/** Circle diameters against the order in which they were mowed, a series for each cell, with its key below. */
final class RunOrder {
    private static final int PLOT = 380;
    private static final int KEY_LINE = 24;
    /** Narrowest range of the diameter axis (m). */
    private static final double LEAST_RANGE = 0.04;

    private final Shown shown;
    private final List<Line> lines;

    /** A cell's circles that have an order, in that order; each with at least one. */
    record Line(String machine, String cell, List<CirclePoint> points, Look.Style style) {
        Line {
            points = List.copyOf(points);
        }
    }

    RunOrder(Shown shown, List<Line> lines) {
        this.shown = shown;
        this.lines = lines;
    }

    int height() {
        return PLOT + KEY_LINE * lines.size() + Look.MARGIN;
    }

    void paint(Graphics2D g) {
        chart().paint(g, Look.WIDTH, PLOT);
        double y = PLOT + KEY_LINE - 8;
        for (Line line : lines) {
            g.setColor(line.style.colour());
            g.setStroke(line.style.line());
            g.draw(new Line2D.Double(Look.MARGIN, y - 5, Look.MARGIN + 44, y - 5));
            Glyph.hollow(line.style.shape()).paint(g, Look.MARGIN + 22, y - 5, 11);
            double left = Look.MARGIN + 54;
            double room = Look.WIDTH - left - Look.MARGIN;
            // a long machine name gives way, since its cells differ at the end
            String cell = ", " + line.cell;
            double kept = Math.min(Look.width(g, cell, Look.PLAIN), 0.7 * room);
            String machine = Look.fitted(g, line.machine, room - kept, Look.PLAIN);
            Look.text(g, machine + cell, left, y, room, Look.PLAIN, Look.INK);
            y += KEY_LINE;
        }
    }

    private XYChart chart() {
        XYChart chart = Look.chart(PLOT);
        chart.setXAxisTitle("run order");
        var styler = chart.getStyler();
        styler.setYAxisTitleVisible(false).setPlotGridVerticalLinesVisible(false);
        var points = lines.stream().flatMap(line -> line.points.stream()).toList();
        var orders = points.stream().mapToInt(point -> point.order().getAsInt()).summaryStatistics();
        var diameters = points.stream().mapToDouble(CirclePoint::diameter).summaryStatistics();
        double range = diameters.getMax() - diameters.getMin();
        double pad = Math.max(0.08 * range, (LEAST_RANGE - range) / 2);
        styler.setXAxisMin(orders.getMin() - 0.5).setXAxisMax(orders.getMax() + 0.5);
        styler.setYAxisMin(shown.amount(diameters.getMin() - pad)).setYAxisMax(shown.amount(diameters.getMax() + pad));
        int decimals = Figures.decimalsFor(shown.amount(range + 2 * pad));
        styler.setYAxisTickLabelsFormattingFunction(value -> Figures.fixed(value, decimals));
        // a run order has no halves: equal labels make the chart choose a wider step
        styler.setXAxisTickLabelsFormattingFunction(value -> Figures.fixed(value, 0));
        styler.setXAxisTickMarkSpacingHint(40).setYAxisTickMarkSpacingHint(50);
        for (int i = 0; i < lines.size(); i++) {
            Line line = lines.get(i);
            double[] x = line.points.stream()
                    .mapToDouble(point -> point.order().getAsInt())
                    .toArray();
            double[] y = line.points.stream()
                    .mapToDouble(point -> shown.amount(point.diameter()))
                    .toArray();
            chart.addSeries("line" + i, x, y)
                    .setMarker(SeriesMarkers.NONE)
                    .setLineStyle(line.style.line())
                    .setLineColor(line.style.colour());
            // a series of their own, painted after the line, so that no line crosses a hollow marker
            chart.addSeries("circles" + i, x, y)
                    .setXYSeriesRenderStyle(XYSeriesRenderStyle.Scatter)
                    .setMarker(Glyph.hollow(line.style.shape()))
                    .setMarkerColor(line.style.colour());
        }
        return chart;
    }
}
