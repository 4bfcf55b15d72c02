package org.fairturn.chart;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.geom.Path2D;
import org.knowm.xchart.style.markers.Marker;

/** A marker that differs in shape, and in being filled or hollow, so that colour is never needed to tell two apart. */
final class Glyph extends Marker {
    private static final BasicStroke OUTLINE = Look.stroke(1.8);

    enum Shape {
        CIRCLE,
        SQUARE,
        TRIANGLE_UP,
        DIAMOND,
        TRIANGLE_DOWN,
        PLUS;

        /** x and y of each corner in turn, for a marker of half-size 1; sizes differ so that all look equally large. */
        private double[] corners() {
            return switch (this) {
                case CIRCLE -> new double[] {};
                case SQUARE -> new double[] {-.88, -.88, .88, -.88, .88, .88, -.88, .88};
                case TRIANGLE_UP -> new double[] {0, -1.15, 1.1, .85, -1.1, .85};
                case DIAMOND -> new double[] {0, -1.25, 1.25, 0, 0, 1.25, -1.25, 0};
                case TRIANGLE_DOWN -> new double[] {0, 1.15, 1.1, -.85, -1.1, -.85};
                case PLUS ->
                    new double[] {
                        -.4, -1.1, .4, -1.1, .4, -.4, 1.1, -.4, 1.1, .4, .4, .4, .4, 1.1, -.4, 1.1, -.4, .4, -1.1, .4,
                        -1.1, -.4, -.4, -.4
                    };
            };
        }

        java.awt.Shape at(double x, double y, double half) {
            double[] corners = corners();
            if (corners.length == 0) {
                return new java.awt.geom.Ellipse2D.Double(x - half, y - half, 2 * half, 2 * half);
            }
            Path2D.Double path = new Path2D.Double();
            path.moveTo(x + half * corners[0], y + half * corners[1]);
            for (int i = 2; i < corners.length; i += 2) {
                path.lineTo(x + half * corners[i], y + half * corners[i + 1]);
            }
            path.closePath();
            return path;
        }
    }

    private final Shape shape;
    private final boolean filled;

    private Glyph(Shape shape, boolean filled) {
        this.shape = shape;
        this.filled = filled;
    }

    static Glyph filled(Shape shape) {
        return new Glyph(shape, true);
    }

    static Glyph hollow(Shape shape) {
        return new Glyph(shape, false);
    }

    @Override
    public void paint(Graphics2D g, double x, double y, int size) {
        java.awt.Shape outline = shape.at(x, y, size / 2.0);
        if (filled) {
            g.fill(outline);
            return;
        }
        Color colour = g.getColor();
        g.setColor(Color.WHITE);
        g.fill(outline);
        g.setColor(colour);
        g.setStroke(OUTLINE);
        g.draw(outline);
    }
}
