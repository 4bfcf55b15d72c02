package org.fairturn.finding;

import java.util.List;
import java.util.Optional;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Trial;

/**
 * What the questions are to be answered from.
 *
 * @param circles every circle of the trial
 */
record Asked(Trial trial, List<CircleResult> circles, List<MachineEstimate> machines) {
    DecisionRule rule() {
        return new DecisionRule(
                trial.conditions().practicalMargin().metres(),
                trial.conditions().confidence());
    }

    Wording wording() {
        return new Wording(trial.conditions().lengthUnit());
    }

    /** The statistics of a machine; empty where none of its circles counts. */
    Optional<MachineEstimate> machine(String id) {
        for (MachineEstimate machine : machines) {
            if (machine.machine().id().equals(id)) {
                return Optional.of(machine);
            }
        }
        return Optional.empty();
    }

    /** The statistics of a cell's machine, where the cell was driven. */
    Optional<MachineEstimate> driven(Cell cell) {
        return machine(cell.machine()).filter(m -> m.has(cell));
    }
}
