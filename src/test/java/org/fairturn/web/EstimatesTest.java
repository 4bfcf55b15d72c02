package org.fairturn.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.concurrent.CancellationException;
import java.util.concurrent.CountDownLatch;
import org.fairturn.finding.Analysis;
import org.fairturn.folder.TrialEditor;
import org.fairturn.trial.Trial;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class EstimatesTest {
    @TempDir
    Path above;

    /** What is printed where an analysis ends in a fault, before or after the server is stopped. */
    private String said(boolean stopped) throws InterruptedException {
        Path demo = Served.demoBelow(above.resolve(String.valueOf(stopped)));
        CountDownLatch begun = new CountDownLatch(1);
        CountDownLatch cutOff = new CountDownLatch(1);
        Estimates estimates = new Estimates(new Analyses(trial -> cutOff(trial, begun, cutOff)));
        PrintStream err = System.err;
        ByteArrayOutputStream said = new ByteArrayOutputStream();
        System.setErr(new PrintStream(said, true, StandardCharsets.UTF_8));
        try {
            estimates.of(demo, TrialEditor.of(demo).version());
            begun.await();
            if (stopped) {
                estimates.stop();
            }
            cutOff.countDown();
            while (!stopped && said.size() == 0) {
                Thread.sleep(1);
            }
            estimates.stop();
            assertThat(estimates.isStoppedWithin(20_000)).isTrue();
        } finally {
            System.setErr(err);
        }
        return said.toString(StandardCharsets.UTF_8);
    }

    private static Analysis cutOff(Trial trial, CountDownLatch begun, CountDownLatch cutOff) {
        begun.countDown();
        boolean waiting = true;
        while (waiting) {
            try {
                cutOff.await();
                waiting = false;
            } catch (InterruptedException stopping) {
                // the fault comes after the stop, whatever is interrupted meanwhile
            }
        }
        throw new IllegalStateException(trial.folder(), new CancellationException());
    }

    @Test
    void anEstimateCutOffByTheEndOfTheServer_saysNothing_butAFaultBeforeItIsTold() throws InterruptedException {
        assertThat(said(true)).isEmpty();
        assertThat(said(false)).contains("IllegalStateException: demo");
    }
}
