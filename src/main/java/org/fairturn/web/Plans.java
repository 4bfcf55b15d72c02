package org.fairturn.web;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.fairturn.finding.PlanWish;
import org.fairturn.finding.TrialPlan;
import org.fairturn.report.PlanReport;
import org.fairturn.trial.Cell;

/** Plans, each worked out once and one at a time; the latest are kept. */
final class Plans {
    private static final int MOST = 12;

    private final Map<PlanWish, TrialPlan> latest = new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<PlanWish, TrialPlan> eldest) {
            return size() > MOST;
        }
    };

    /**
     * A plan worked out to its end.
     *
     * @param leave stops that do not touch the axle, a sentence each
     * @param foreseen what it can tell of each question
     * @param rests what it rests on
     * @param order the cells as they are driven
     * @param readings of each circle
     */
    record Plan(
            List<String> leave,
            String answer,
            String difference,
            List<PlanReport.Size> sizes,
            List<String> foreseen,
            List<String> rests,
            List<PlanReport.Block> blocks,
            List<Cell> order,
            int readings) {}

    /** Synchronised as a whole: a plan goes on working things out while it is asked. */
    synchronized Plan of(PlanWish wish, long seed) {
        PlanReport report = new PlanReport(latest.computeIfAbsent(wish, TrialPlan::of), seed);
        return new Plan(
                report.leave(),
                report.answer(),
                report.difference(),
                report.sizes(),
                report.foreseen(),
                report.assumptions(),
                report.blocks(),
                report.order(),
                report.readings());
    }
}
