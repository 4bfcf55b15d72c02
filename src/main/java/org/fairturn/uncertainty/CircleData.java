package org.fairturn.uncertainty;

import java.util.ArrayList;
import java.util.List;

/**
 * Circles sorted into cells, the cells that share one repeatability.
 *
 * @param cells one or more, each with one or more circles
 */
public record CircleData(List<List<CircleSummary>> cells) {
    /**
     * Keeps its own copy of the lists.
     *
     * @param cells one or more, each with one or more circles
     * @throws IllegalArgumentException if there is no cell, or one without circles
     */
    public CircleData {
        List<List<CircleSummary>> copies = new ArrayList<>(cells.size());
        boolean empty = cells.isEmpty();
        for (List<CircleSummary> cell : cells) {
            copies.add(List.copyOf(cell));
            empty |= cell.isEmpty();
        }
        if (empty) {
            throw new IllegalArgumentException("cells hold "
                    + cells.stream().map(List::size).toList() + " circles; must be one or more cells of one or more");
        }
        cells = List.copyOf(copies);
    }

    int circles() {
        int circles = 0;
        for (List<CircleSummary> cell : cells) {
            circles += cell.size();
        }
        return circles;
    }

    int readings() {
        int readings = 0;
        for (List<CircleSummary> cell : cells) {
            for (CircleSummary circle : cell) {
                readings += circle.readings();
            }
        }
        return readings;
    }

    /** {@return how many readings across the readings of a circle are worth, on average; in (0, ∞)} */
    public double meanWeight() {
        return cells.stream()
                .flatMap(List::stream)
                .mapToDouble(CircleSummary::weight)
                .average()
                .orElseThrow();
    }

    double withinSumOfSquares() {
        double sum = 0;
        for (List<CircleSummary> cell : cells) {
            for (CircleSummary circle : cell) {
                sum += circle.withinSumOfSquares();
            }
        }
        return sum;
    }

    /** Readings beyond the first of each circle: what the reading repeatability can be learnt from. */
    int readingDegreesOfFreedom() {
        return readings() - circles();
    }

    /** Circles beyond the first of each cell: what the circle repeatability can be learnt from. */
    int circleDegreesOfFreedom() {
        return circles() - cells.size();
    }
}
