package org.fairturn.chart;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.fairturn.units.LengthUnit;

/** Invented data for the tests, and a small program that writes every drawing to target/drawings to be looked at. */
final class Samples {
    private static final double INCH = LengthUnit.INCH.metres();

    private Samples() {}

    static CellColumn cell(String machine, String name, int firstRun, int step, double... inches) {
        List<CirclePoint> circles = new ArrayList<>();
        double sum = 0;
        for (int i = 0; i < inches.length; i++) {
            circles.add(new CirclePoint(
                    "C" + (firstRun + i * step), inches[i] * INCH, OptionalInt.of(firstRun + i * step)));
            sum += inches[i];
        }
        double mean = sum / inches.length * INCH;
        return new CellColumn(machine, name, mean, mean - 0.045, mean + 0.05, circles);
    }

    static List<CellColumn> twoMachines() {
        return List.of(
                cell("Alder 22", "left 2WD", 1, 8, 61.0, 60.2, 61.9),
                cell("Alder 22", "right 2WD", 2, 8, 57.4, 58.6, 57.9),
                cell("Alder 22", "left 4WD", 3, 8, 68.1, 69.0, 67.2),
                cell("Alder 22", "right 4WD", 4, 8, 64.9, 66.0, 65.6),
                cell("Birch 25 with the long deck", "left 2WD", 5, 8, 63.1, 62.7, 63.5),
                cell("Birch 25 with the long deck", "right 2WD", 6, 8, 63.0, 62.1, 63.9),
                cell("Birch 25 with the long deck", "left 4WD", 7, 8, 71.2, 70.1, 72.6),
                cell("Birch 25 with the long deck", "right 4WD", 8, 8, 71.9, 70.4, 72.1));
    }

    static List<Decomposition> decompositions() {
        return List.of(
                new Decomposition(
                        "Alder 22, 2WD",
                        -0.080,
                        0.055,
                        OptionalDouble.of(-0.012),
                        -0.062,
                        0.018,
                        -0.006,
                        -0.066,
                        0.054),
                new Decomposition(
                        "Alder 22, 4WD", -0.066, 0.060, OptionalDouble.empty(), -0.058, 0.019, -0.008, -0.071, 0.055),
                new Decomposition("Birch 25, 2WD", 0.131, 0.055, OptionalDouble.of(0.0), 0, 0.018, 0.131, 0.07, 0.19));
    }

    static PlanView.Scene scene() {
        return new PlanView.Scene(
                "Alder 22",
                OptionalDouble.of(1.60),
                OptionalDouble.of(1.10),
                List.of(
                        new PlanView.BladeDisc("left", 0.72, 0.465, 0.262),
                        new PlanView.BladeDisc("centre", 0.98, -0.025, 0.262),
                        new PlanView.BladeDisc("right", 0.72, -0.515, 0.262)),
                OptionalDouble.of(-0.025),
                turning("Left turn, 2WD", 1, 1.36),
                turning("Right turn, 2WD", -1, 1.36),
                LengthUnit.INCH);
    }

    /** A turning whose uncut diameter is what the outer blade of {@link #scene()} leaves. */
    private static PlanView.Turning turning(String label, int side, double radius) {
        double y = side > 0 ? 0.465 : -0.515;
        double diameter = 2 * (Math.hypot(0.72, radius - side * y) - 0.262);
        return new PlanView.Turning(label, radius, 0, diameter);
    }

    /** One circle; twelve cells with long names in millimetres; a machine of which only the blades are known. */
    static List<Drawing> extremes() {
        List<CellColumn> twelve = new ArrayList<>();
        for (int i = 0; i < 12; i++) {
            twelve.add(cell(
                    "machine with a name that no heading could ever hold " + i / 4,
                    "left 4WD, brakes used, on wet ground",
                    i + 1,
                    12,
                    60 + i,
                    62));
        }
        PlanView.Turning narrow = new PlanView.Turning("Left turn, 4WD, brakes used", 0.7, 0.05, 0.2);
        PlanView.Turning wide = new PlanView.Turning("Right turn, 4WD", 6, 0.05, 9);
        return List.of(
                Charts.diameters(List.of(cell("Alder 22", "left 2WD", 1, 1, 61)), LengthUnit.METRE)
                        .orElseThrow(),
                Charts.leftRight(decompositions().subList(1, 2), 0.5, LengthUnit.METRE)
                        .orElseThrow(),
                Charts.runOrder(twelve, LengthUnit.METRE).orElseThrow(),
                PlanView.draw(new PlanView.Scene(
                        "Birch",
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        scene().blades(),
                        OptionalDouble.of(0.1),
                        narrow,
                        wide,
                        LengthUnit.METRE)));
    }

    public static void main(String[] arguments) throws IOException {
        Path folder = Files.createDirectories(Path.of("target", "drawings"));
        List<Drawing> drawings = new ArrayList<>();
        long start = System.nanoTime();
        for (int round = 0; round < 4; round++) {
            drawings.clear();
            long before = System.nanoTime();
            for (Optional<Drawing> drawing : List.of(
                    Charts.diameters(twoMachines(), LengthUnit.INCH),
                    Charts.leftRight(decompositions(), 0.05, LengthUnit.INCH),
                    Charts.runOrder(twoMachines(), LengthUnit.INCH))) {
                drawing.ifPresent(drawings::add);
            }
            System.err.printf("three charts, round %d: %d ms%n", round, (System.nanoTime() - before) / 1_000_000);
        }
        long before = System.nanoTime();
        drawings.add(PlanView.draw(scene()));
        System.err.printf(
                "plan view: %d ms; all: %d ms%n",
                (System.nanoTime() - before) / 1_000_000, (System.nanoTime() - start) / 1_000_000);
        StringBuilder page = new StringBuilder(
                "<!doctype html><meta charset=utf-8><meta name=viewport"
                        + " content='width=device-width'><style>body{margin:16px}svg{width:100%;max-width:640px;display:block;margin-bottom:24px}</style>");
        int head = page.length();
        for (Drawing drawing : extremes()) {
            Files.writeString(folder.resolve("extreme-" + drawing.name() + ".svg"), drawing.svgFile());
            page.append(drawing.svg().replace("id=\"", "id=\"x").replace("url(#", "url(#x"));
        }
        Files.writeString(folder.resolve("extremes.html"), page);
        page.setLength(head);
        for (Drawing drawing : drawings) {
            page.append(drawing.svg());
            Files.writeString(folder.resolve(drawing.name() + ".svg"), drawing.svgFile());
            if (drawing.png().isPresent()) {
                Files.write(
                        folder.resolve(drawing.name() + ".png"), drawing.png().get());
            }
            System.err.println(drawing.name() + ": " + drawing.svg().length() + " characters of SVG, "
                    + drawing.png().map(bytes -> bytes.length).orElse(0) + " bytes of PNG");
            System.err.println(drawing.description());
        }
        Files.writeString(folder.resolve("all.html"), page);
    }
}
