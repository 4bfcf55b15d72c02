package org.fairturn.folder;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.fairturn.trial.Trial;

/** A trial folder to try things on: small and sound until a file is replaced. */
final class Given {
    static final String TRIAL = "field,value\ntitle,Lower meadow\ndate,2026-05-14\nlength unit,mm\n";
    static final String MACHINES = "machine\nAlder 22\nBirch 10\n";
    static final String CIRCLES = "circle,machine,turn,drive\nA1,Alder 22,left,2WD\nB1,Birch 10,right,4WD\n";
    static final String READINGS = "circle,kind,value\nA1,across,1580\nB1,across,62 3/8 in\n";

    private final Path folder;

    private Given(Path folder) {
        this.folder = folder;
    }

    static Given soundFolder(Path folder) {
        return new Given(folder)
                .with("trial.csv", TRIAL)
                .with("machines.csv", MACHINES)
                .with("circles.csv", CIRCLES)
                .with("readings.csv", READINGS);
    }

    Given with(String file, String content) {
        return with(file, content.getBytes(StandardCharsets.UTF_8));
    }

    Given with(String file, byte[] content) {
        try {
            Files.write(folder.resolve(file), content);
            return this;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    Given without(String file) {
        try {
            Files.delete(folder.resolve(file));
            return this;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    Path path() {
        return folder;
    }

    TrialRead read() {
        return TrialFolder.read(folder);
    }

    Trial trial() {
        return read().fold(TrialRead.Complete::trial, faulty -> {
            throw new AssertionError(
                    faulty.problems().stream().map(Problem::message).toList());
        });
    }

    List<Problem> problems() {
        return read().fold(complete -> List.of(), TrialRead.Faulty::problems);
    }

    List<String> messages() {
        return problems().stream().map(Problem::message).toList();
    }

    List<String> notes() {
        return read().fold(TrialRead.Complete::notes, TrialRead.Faulty::notes).stream()
                .map(note -> note.where() + ": " + note.text())
                .toList();
    }
}
