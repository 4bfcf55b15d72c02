package org.fairturn.finding;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Reading;
import org.fairturn.trial.Trial;
import org.fairturn.uncertainty.CircleData;
import org.fairturn.uncertainty.PastScatter;

/**
 * What one machine in one drive showed of the repeatability in a past trial.
 *
 * @param folder the trial folder, as a path below the archive with slashes
 * @param date of the trial
 * @param machine id
 * @param drive the circles were driven in
 * @param surface as trial.csv states it, empty where it does not
 * @param measurer who laid the tape, empty where it was not noted or several did
 * @param circles that counted
 * @param readings of these circles
 * @param scatter sums of squares in m²
 */
public record PastTrial(
        String folder,
        LocalDate date,
        String machine,
        Drive drive,
        String surface,
        String measurer,
        int circles,
        int readings,
        PastScatter scatter) {
    static final Comparator<PastTrial> ORDER = Comparator.comparing(PastTrial::date)
            .thenComparing(PastTrial::folder)
            .thenComparing(PastTrial::machine)
            .thenComparing(PastTrial::drive);

    /**
     * {@return what a trial shows, a machine and drive each; empty where no circle counts}
     *
     * @param folder name it was found under
     * @param trial as it was read
     */
    public static List<PastTrial> of(String folder, Trial trial) {
        Observations observations = new Observations(trial.conditions());
        Map<String, Map<Drive, List<CircleResult>>> driven = new TreeMap<>();
        trial.circles().stream()
                .map(circle -> CircleResult.of(circle, observations))
                .filter(CircleResult::counts)
                .forEach(c -> driven.computeIfAbsent(c.circle().cell().machine(), k -> new TreeMap<>())
                        .computeIfAbsent(c.circle().cell().drive(), k -> new ArrayList<>())
                        .add(c));
        List<PastTrial> result = new ArrayList<>();
        driven.forEach((machine, drives) -> drives.forEach((drive, circles) -> {
            Map<Cell, List<CircleResult>> cells = circles.stream()
                    .sorted(Comparator.comparing((CircleResult c) -> c.circle().cell(), MachineEstimate.CELL_ORDER)
                            .thenComparing(c -> c.circle().id()))
                    .collect(Collectors.groupingBy(c -> c.circle().cell(), LinkedHashMap::new, Collectors.toList()));
            CircleData data = MachineEstimate.data(cells);
            result.add(new PastTrial(
                    folder,
                    trial.conditions().date(),
                    machine,
                    drive,
                    trial.conditions().surface(),
                    measurer(circles),
                    circles.size(),
                    circles.stream().mapToInt(c -> c.observations().size()).sum(),
                    PastScatter.of(data)));
        }));
        return List.copyOf(result);
    }

    private static String measurer(List<CircleResult> circles) {
        List<String> names = circles.stream()
                .flatMap(c -> c.circle().readings().stream())
                .map(Reading::measurer)
                .distinct()
                .toList();
        return names.size() == 1 ? names.get(0) : "";
    }

    /** One and the same trial has one folder and one date. */
    String trial() {
        return date + " " + folder;
    }
}
