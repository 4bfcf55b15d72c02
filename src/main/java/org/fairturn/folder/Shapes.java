package org.fairturn.folder;

import java.util.HashSet;
import java.util.List;
import org.fairturn.trial.GroundPoint;

/** Whether what was measured can lie on one circle at all. Lengths in metres. */
final class Shapes {
    /** Three stakes whose triangle is lower than this part of its longest side fix no circle: our own limit. */
    private static final double LOWEST_TRIANGLE = 0.01;

    /** An arc flatter than this, rise to chord, magnifies a slip of the tape on the rise more than 600 times: our own limit. */
    static final double FLATTEST_ARC = 1.0 / 50;

    private Shapes() {}

    /** True where three distances form a triangle that is not nearly a line. */
    static boolean isTriangle(double a, double b, double c) {
        double longest = Math.max(a, Math.max(b, c));
        double shortest = Math.min(a, Math.min(b, c));
        double middle = a + b + c - longest - shortest;
        if (!(longest < shortest + middle)) {
            return false;
        }
        // Heron: 16 area² = (a+b+c)(−a+b+c)(a−b+c)(a+b−c); the height stands on the longest side
        double sixteenAreasSquared = (longest + middle + shortest)
                * (shortest + middle - longest)
                * (longest + shortest - middle)
                * (longest + middle - shortest);
        double height = Math.sqrt(sixteenAreasSquared) / (2 * longest);
        return height >= LOWEST_TRIANGLE * longest;
    }

    static int distinct(List<GroundPoint> points) {
        return new HashSet<>(points).size();
    }

    /**
     * True where all points lie within 1 mm, or a millionth of their spread, of one line. The line runs through the first
     * point and the point farthest from it.
     */
    static boolean onOneLine(List<GroundPoint> points) {
        double x0 = points.get(0).x().metres();
        double y0 = points.get(0).y().metres();
        double spread = 0;
        double alongX = 0;
        double alongY = 0;
        for (GroundPoint point : points) {
            double dx = point.x().metres() - x0;
            double dy = point.y().metres() - y0;
            if (Math.hypot(dx, dy) > spread) {
                spread = Math.hypot(dx, dy);
                alongX = dx / spread;
                alongY = dy / spread;
            }
        }
        double off = 0;
        for (GroundPoint point : points) {
            double dx = point.x().metres() - x0;
            double dy = point.y().metres() - y0;
            off = Math.max(off, Math.abs(alongX * dy - alongY * dx));
        }
        return off <= Math.max(0.001, 1e-6 * spread);
    }
}
