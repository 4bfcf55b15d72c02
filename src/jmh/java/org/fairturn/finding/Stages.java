package org.fairturn.finding;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.fairturn.fit.CircleFit;
import org.fairturn.folder.TrialFolder;
import org.fairturn.folder.TrialRead;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Trial;
import org.fairturn.uncertainty.CircleData;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.RepeatabilityPosterior;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** How long each part of an analysis takes, and the whole, from a folder of testdata. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 3, time = 3)
@Measurement(iterations = 5, time = 3)
@Fork(1)
public class Stages {
    @Param({"demo", "metric", "complaint"})
    public String folder;

    private Path path;
    private Trial trial;
    private List<CircleResult> circles;
    private List<MachineEstimate> machines;
    private List<Answer<Asked>> answers;
    private CircleData data;
    private MachineEstimate machine;
    private double[] x;
    private double[] y;

    @Setup
    public void read() {
        path = Path.of("testdata", folder);
        trial = TrialFolder.read(path).fold(TrialRead.Complete::trial, faulty -> {
            throw new IllegalStateException(faulty.problems().toString());
        });
        Observations observations = new Observations(trial.conditions());
        circles = trial.circles().stream()
                .map(c -> CircleResult.of(c, observations))
                .toList();
        machines = trial.machines().stream()
                .map(m -> MachineEstimate.of(m, trial.conditions(), circles))
                .flatMap(Optional::stream)
                .toList();
        machine = machines.get(0);
        data = MachineEstimate.data(machine.circles());
        answers = Answers.of(asked()).answers();
        // five points on a circle of 1 m, a millimetre or two beside it
        x = new double[] {1.001, 0.309, -0.809, -0.810, 0.310};
        y = new double[] {0, 0.951, 0.587, -0.588, -0.950};
    }

    private Asked asked() {
        return new Asked(trial, circles, machines);
    }

    @Benchmark
    public Object readingAFolder() {
        return TrialFolder.read(path);
    }

    @Benchmark
    public Object circleFit() {
        return CircleFit.geometric(x, y);
    }

    /** The posterior of one machine, with one contrast of it. */
    @Benchmark
    public Estimate posterior() {
        double[] c = new double[data.cells().size()];
        c[0] = 1;
        return RepeatabilityPosterior.of(
                        data,
                        Priors.circle(trial.conditions()),
                        Priors.reading(trial.conditions()),
                        MachineEstimate.RESOLUTION)
                .contrast(c, 0, 0)
                .estimate(0.95);
    }

    @Benchmark
    public Object leftAgainstRight() {
        Asked asked = asked();
        return LeftRight.of(machine, Drive.TWO_WHEEL, Brakes.NONE, asked.rule(), asked.wording());
    }

    @Benchmark
    public Object everyAnswer() {
        return Answers.of(asked());
    }

    /** Every verdict tried against each circle and reading left out, and the rest. */
    @Benchmark
    public Object robustness() {
        return Robustness.of(answers, asked());
    }

    @Benchmark
    public Analysis wholeAnalysis() {
        return Analysis.of(trial);
    }
}
