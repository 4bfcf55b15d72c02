package org.fairturn.report;

import java.util.List;

/**
 * How one number came about, so that it can be done again by hand.
 *
 * @param title the number
 * @param steps in order
 */
public record Working(String title, List<Step> steps) {
    /**
     * Keeps its own copy of the list.
     *
     * @param title the number
     * @param steps in order
     */
    public Working {
        steps = List.copyOf(steps);
    }

    /**
     * One step.
     *
     * @param text what is done and why
     * @param formula the formula with the numbers put in; empty where there is none
     */
    public record Step(String text, String formula) {}
}
