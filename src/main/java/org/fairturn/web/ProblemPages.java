package org.fairturn.web;

import io.javalin.http.Context;
import java.nio.file.Path;
import java.util.List;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;

/** The data of a trial looked through: what has to be mended, what stands out, what there is to know. */
public final class ProblemPages {
    private final Trials trials;
    private final Pages pages;
    private final Reports reports;

    ProblemPages(Trials trials, Pages pages, Reports reports) {
        this.trials = trials;
        this.pages = pages;
        this.reports = reports;
    }

    /**
     * Something about the data.
     *
     * @param where file, row and column, or circle
     * @param lines what was read, what is accepted and how to mend it; or what there is to know
     * @param pointer the cell and a mark below what could not be read; empty where there is none
     * @param page of the trial where it can be mended; empty where there is none
     * @param link what that page is called
     */
    public record Item(String where, List<String> lines, String pointer, String page, String link) {
        /**
         * Keeps its own copy of the list.
         *
         * @param where file, row and column, or circle
         * @param lines what was read, what is accepted and how to mend it; or what there is to know
         * @param pointer the cell and a mark below what could not be read; empty where there is none
         * @param page of the trial where it can be mended; empty where there is none
         * @param link what that page is called
         */
        public Item {
            lines = List.copyOf(lines);
        }
    }

    /**
     * All of it.
     *
     * @param problems what has to be mended
     * @param standsOut what looks odd in the readings
     * @param notes what to bear in mind
     * @param analysed whether there are findings
     */
    public record ListView(List<Item> problems, List<Item> standsOut, List<Item> notes, boolean analysed) {}

    void list(Context context) {
        Path folder = trials.of(context);
        TrialRead read = TrialFolder.read(folder);
        Places places = new Places(folder);
        List<Item> problems = read.fold(
                complete -> List.of(),
                faulty -> faulty.problems().stream().map(places::item).toList());
        List<Item> standsOut = problems.isEmpty()
                ? reports.read(folder)
                        .map(ready -> reports.of(ready).analysis().warnings().stream()
                                .map(places::item)
                                .toList())
                        .orElse(List.of())
                : List.of();
        List<Item> notes = read.fold(complete -> complete.notes(), faulty -> faulty.notes()).stream()
                .map(places::item)
                .toList();
        pages.show(
                context,
                "problems",
                "The data looked through",
                TrialPages.named(context, folder),
                "problems",
                new ListView(problems, standsOut, notes, problems.isEmpty()));
    }
}
