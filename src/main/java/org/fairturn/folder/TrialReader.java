package org.fairturn.folder;

import java.nio.file.Path;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.fairturn.trial.Circle;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Conditions;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Reference;
import org.fairturn.trial.Trial;

/** Reads one folder from end to end, gathering its problems on the way. */
final class TrialReader {
    private static final Set<TrialFile> REQUIRED = EnumSet.of(TrialFile.TRIAL, TrialFile.MACHINES, TrialFile.CIRCLES);

    private final Problems problems = new Problems();
    private final Map<TrialFile, Table> tables = new EnumMap<>(TrialFile.class);
    private final Path folder;
    /** Whether the trial may not have been driven yet: neither circles nor readings have to be there. */
    private final boolean planned;

    private TrialReader(Path folder, boolean planned) {
        this.folder = folder;
        this.planned = planned;
    }

    static TrialRead read(Path folder) {
        return read(folder, false);
    }

    static TrialRead readPlanned(Path folder) {
        return read(folder, true);
    }

    private static TrialRead read(Path folder, boolean planned) {
        TrialReader reader = new TrialReader(folder, planned);
        return reader.read(FolderFiles.open(folder, reader.problems));
    }

    /** Reads what a folder would hold, or held, rather than what it holds now. */
    static TrialRead read(Path folder, FolderFiles files) {
        return new TrialReader(folder, false).read(Optional.of(files));
    }

    private TrialRead read(Optional<FolderFiles> files) {
        Optional<Trial> trial = files.flatMap(this::trial);
        List<Problem> found = problems.problems();
        if (found.isEmpty() && trial.isPresent()) {
            return new TrialRead.Complete(trial.get(), problems.notes());
        }
        return new TrialRead.Faulty(found, problems.notes());
    }

    private Optional<Trial> trial(FolderFiles files) {
        files.noteUnread(problems);
        for (TrialFile file : TrialFile.values()) {
            if (files.has(file)) {
                files.load(file, problems)
                        .flatMap(loaded -> Table.of(file, loaded, problems))
                        .ifPresent(table -> tables.put(file, table));
            } else if (REQUIRED.contains(file) && !(planned && file == TrialFile.CIRCLES)) {
                reportMissing(file, files, "no such file", "Add it to the folder.");
            }
        }
        if (!planned && !files.has(TrialFile.READINGS) && !files.has(TrialFile.POINTS)) {
            reportMissing(
                    TrialFile.READINGS, files, "neither this file nor points.csv", "Add one of the two to the folder.");
        }
        ConditionsReader trialFile = new ConditionsReader(table(TrialFile.TRIAL), problems);
        Lengths lengths = trialFile.lengths();
        Optional<Conditions> conditions = trialFile.conditions();
        Ids machineIds = Ids.listed(TrialFile.MACHINES, "machine", table(TrialFile.MACHINES));
        Ids circleIds = Ids.listed(TrialFile.CIRCLES, "circle", table(TrialFile.CIRCLES));
        List<Machine> machines = new MachinesReader(machineIds, lengths)
                .machines(table(TrialFile.MACHINES), table(TrialFile.BLADES), table(TrialFile.STOPS));
        List<Circle> circles = new CirclesReader(machineIds, circleIds, lengths, problems)
                .circles(
                        table(TrialFile.CIRCLES),
                        table(TrialFile.READINGS),
                        table(TrialFile.POINTS),
                        measurementsTellAll(files));
        List<Claim> claims = table(TrialFile.CLAIMS)
                .map(table -> ClaimsReader.claims(table, machineIds, lengths))
                .orElse(List.of());
        List<Reference> references = table(TrialFile.REFERENCES)
                .map(table -> ReferencesReader.references(table, machineIds, lengths))
                .orElse(List.of());
        reportEmpty(files);
        return conditions.map(
                known -> new Trial(TrialFolder.nameOf(folder), known, machines, circles, claims, references));
    }

    private Optional<Table> table(TrialFile file) {
        return Optional.ofNullable(tables.get(file));
    }

    /** True where a circle that no row of measurements names has none: both files, where present, were read to the end. */
    private boolean measurementsTellAll(FolderFiles files) {
        boolean some = false;
        for (TrialFile file : List.of(TrialFile.READINGS, TrialFile.POINTS)) {
            if (files.has(file)) {
                if (table(file).isEmpty() || !table(file).get().tellsAll("circle")) {
                    return false;
                }
                some |= !table(file).get().rows().isEmpty();
            }
        }
        return some;
    }

    private void reportMissing(TrialFile file, FolderFiles files, String found, String advice) {
        String mend = files.lookalike(file)
                .map(other -> "Save \"" + other + "\" as " + file.fileName() + ", in the format \"CSV UTF-8\".")
                .orElse(advice);
        problems.add(Problem.of(file.fileName(), 0, found, "a CSV file with " + file.needs() + ", among others", mend));
    }

    private void reportEmpty(FolderFiles files) {
        if (hasNoRow(TrialFile.MACHINES)) {
            reportEmpty(TrialFile.MACHINES, "no machine yet", "one row or more, a machine each");
        }
        if (planned) {
            return;
        }
        if (hasNoRow(TrialFile.CIRCLES)) {
            reportEmpty(TrialFile.CIRCLES, "no circle yet", "one row or more, a circle each");
        }
        boolean noReading = !files.has(TrialFile.READINGS) || hasNoRow(TrialFile.READINGS);
        boolean noPoint = !files.has(TrialFile.POINTS) || hasNoRow(TrialFile.POINTS);
        if (noReading && noPoint && (files.has(TrialFile.READINGS) || files.has(TrialFile.POINTS))) {
            reportEmpty(
                    files.has(TrialFile.READINGS) ? TrialFile.READINGS : TrialFile.POINTS,
                    "no reading yet",
                    "one row or more, a reading each, or points in points.csv");
        }
    }

    private boolean hasNoRow(TrialFile file) {
        return table(file).map(table -> table.whole() && table.rows().isEmpty()).orElse(false);
    }

    private void reportEmpty(TrialFile file, String found, String accepted) {
        problems.add(Problem.of(file.fileName(), 0, found, accepted, "Fill in row 2 and those below."));
    }
}
