package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.WhatIf;
import org.fairturn.report.TrialReport;
import org.fairturn.units.Length;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ReportsTest {
    @TempDir
    Path above;

    private final AtomicInteger worked = new AtomicInteger();
    private final Analyses analyses = new Analyses(trial -> {
        worked.incrementAndGet();
        return Analysis.of(trial);
    });
    private final Reports counting = new Reports(analyses);

    private Reports.Ready folder() {
        Path folder = above.resolve("tape-only");
        if (!Files.exists(folder)) {
            Served.copy(Path.of("testdata/tape-only"), folder);
        }
        return counting.read(folder).orElseThrow();
    }

    private static WhatIf margin(double millimetres) {
        return new WhatIf(Optional.of(Length.mm(millimetres)), Optional.empty(), Map.of(), Set.of());
    }

    @Test
    void theSameFolderAndTheSameTried_areWorkedOutOnce() {
        TrialReport first = counting.of(folder(), margin(20));
        assertThat(counting.of(folder(), margin(20))).isSameAs(first);
        assertThat(worked).hasValue(1);
        Length already = folder().trial().conditions().practicalMargin();
        TrialReport measured = counting.of(folder());
        assertThat(counting.of(folder(), margin(already.millimetres()))).isSameAs(measured);
        assertThat(worked).hasValue(2);
    }

    @Test
    void whatTheReadingsWereShownWith_isNotWorkedOutAgainForTheReport() throws InterruptedException {
        Reports.Ready ready = folder();
        Estimates estimates = new Estimates(analyses);
        Optional<Estimates.Known> shown = Optional.empty();
        while (shown.isEmpty()) {
            shown = estimates.of(ready.folder(), ready.version());
            Thread.sleep(1);
        }
        estimates.stop();
        assertThat(counting.of(ready).analysis())
                .isSameAs(shown.get().analysis().orElseThrow());
        assertThat(worked).hasValue(1);
        counting.of(ready, margin(20)); // is no state of the folder, and does not take its place
        assertThat(analyses.of(ready.folder(), ready.trial()))
                .isSameAs(counting.of(ready).analysis());
        assertThat(worked).hasValue(2);
    }

    @Test
    void aFolderThatChanged_isWorkedOutAnew() throws IOException {
        TrialReport before = counting.of(folder());
        Path readings = above.resolve("tape-only/readings.csv");
        List<String> lines = Files.readAllLines(readings);
        Files.writeString(readings, lines.get(1) + "\r\n", StandardOpenOption.APPEND);
        assertThat(counting.of(folder())).isNotSameAs(before);
        assertThat(worked).hasValue(2);
    }

    @Test
    void manyWhoAskAtOnce_waitForTheSameWork() throws Exception {
        CountDownLatch all = new CountDownLatch(8);
        Reports slow = new Reports(new Analyses(trial -> {
            worked.incrementAndGet();
            try {
                all.await(10, TimeUnit.SECONDS); // until everybody has asked
            } catch (InterruptedException stopped) {
                throw new AssertionError(stopped);
            }
            return Analysis.of(trial);
        }));
        Reports.Ready ready = folder();
        ExecutorService visitors = Executors.newFixedThreadPool(8);
        try {
            List<Future<TrialReport>> asked = IntStream.range(0, 8)
                    .mapToObj(i -> visitors.submit(() -> {
                        all.countDown();
                        return slow.of(ready);
                    }))
                    .toList();
            for (Future<TrialReport> report : asked) {
                assertThat(report.get(30, TimeUnit.SECONDS))
                        .isSameAs(asked.get(0).get());
            }
        } finally {
            visitors.shutdownNow();
        }
        assertThat(worked).hasValue(1);
    }

    @Test
    void onlyTheLatestAreKept() {
        Reports.Ready ready = folder();
        TrialReport first = counting.of(ready, margin(10));
        for (int i = 1; i < 24; i++) {
            counting.of(ready, margin(10 + i));
        }
        assertThat(counting.of(ready, margin(10))).isSameAs(first);
        counting.of(ready, margin(50.5)); // one more than are kept; margin 11 was asked for longest ago
        assertThat(worked).hasValue(25);
        assertThat(counting.of(ready, margin(10))).isSameAs(first);
        assertThat(worked).hasValue(25);
        counting.of(ready, margin(11));
        assertThat(worked).hasValue(26);
    }

    @Test
    void whatFailed_isTriedAgain() {
        AtomicInteger tries = new AtomicInteger();
        Reports failing = new Reports(new Analyses(trial -> {
            if (tries.incrementAndGet() == 1) {
                throw new IllegalArgumentException("once");
            }
            return Analysis.of(trial);
        }));
        Reports.Ready ready = folder();
        assertThatThrownBy(() -> failing.of(ready)).isInstanceOf(IllegalStateException.class);
        assertThat(failing.of(ready)).isNotNull();
    }
}
