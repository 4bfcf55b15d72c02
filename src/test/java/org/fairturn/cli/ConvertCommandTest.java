package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ConvertCommandTest {
    @TempDir
    Path above;

    private static Ran convert(String... more) {
        List<String> arguments = new ArrayList<>(List.of("convert"));
        arguments.addAll(List.of(more));
        return Ran.here(arguments.toArray(String[]::new));
    }

    /** The dimensions make right triangles; ConversionTest works them out by hand. */
    @Test
    void dimensionsOnTheCommandLine_giveAllFour() {
        assertThat(convert(
                        "turn radius",
                        "1.5 m",
                        "--turn",
                        "left",
                        "--wheelbase",
                        "1500",
                        "--front-track",
                        "1 m",
                        "--blade",
                        "900,300,500",
                        "--outermost",
                        "2.1 m,0.5 m"))
                .isEqualTo(new Ran(0, """
                                A turn radius of 1500 mm (59.1 in) means that this machine leaves an uncut circle of 2000 mm (78.7 in) in the left turn (between 1938 and 2062 mm (76.3 and 81.2 in) with a probability of 95 %), in 2WD and without brakes.
                                    left turn, uncut diameter: 2000 mm (78.7 in), between 1938 and 2062 mm (76.3 and 81.2 in) with a probability of 95 %
                                    left turn, turn radius: 1500 mm (59.1 in), as stated
                                    left turn, turning circle diameter: 5000 mm (196.9 in), between 4938 and 5062 mm (194.4 and 199.3 in) with a probability of 95 %
                                    left turn, clearance circle diameter: 5800 mm (228.3 in), between 5719 and 5881 mm (225.2 and 231.5 in) with a probability of 95 %
                                """, ""));
    }

    @Test
    void aFolder_bringsMachineAndUnit_andDrawingsAreWritten() throws IOException {
        Path out = above.resolve("drawn");
        Ran ran = convert(
                "turning circle diameter",
                "182",
                "--folder",
                Given.DEMO.toString(),
                "--machine",
                "Alder 22",
                "--json",
                "--out",
                out.toString());
        assertThat(ran.code()).isZero();
        assertThat(ran.err()).isEmpty();
        JsonNode json = new ObjectMapper().readTree(ran.out());
        assertThat(json.get("machine").asText()).isEqualTo("Alder 22");
        assertThat(json.get("given").get("value").asDouble()).isEqualTo(4622.8);
        assertThat(json.get("confidence").asDouble()).isEqualTo(0.95);
        assertThat(json.get("figures")).hasSize(8);
        assertThat(json.get("figures").get(3).get("estimate").isNull()).isTrue();
        assertThat(json.get("figures").get(3).get("missing")).hasSize(1);
        // 2 · hypot(1.45, R + 0.475) = 4.6228: by hand R = 1.3256 m
        assertThat(json.get("figures").get(1).get("estimate").asDouble()).isBetween(1325.0, 1326.0);
        try (var files = Files.list(out)) {
            assertThat(files.map(f -> f.getFileName().toString()))
                    .containsExactlyInAnyOrder("turn-left.svg", "turn-right.svg");
        }
        assertThat(out.resolve("turn-left.svg")).content().contains("<title", "turning circle 182.0 in");
    }

    @Test
    void brakes_areNeverConvertedAway() {
        assertThat(convert("uncut diameter", "1600", "--blade", "900,300,500", "--brakes", "used"))
                .isEqualTo(new Ran(
                        1,
                        "",
                        "A circle turned with brakes is another thing than one without: it is never converted. Ask for the"
                                + " figure without brakes, or measure a circle with them.\n"));
    }

    /** Figures that contradict each other are looked at before anyone mows. */
    @Test
    void aFolderInWhichNobodyHasMown_isEnough() throws IOException {
        for (String name : List.of("trial.csv", "machines.csv", "blades.csv", "claims.csv")) {
            Files.copy(Given.DEMO.resolve(name), above.resolve(name));
        }
        List<String> stated = List.of("turning circle diameter", "182", "--machine", "Alder 22", "--folder");
        Ran before = convert(
                Stream.concat(stated.stream(), Stream.of(above.toString())).toArray(String[]::new));
        assertThat(before.code()).isZero();
        assertThat(before)
                .isEqualTo(convert(Stream.concat(stated.stream(), Stream.of(Given.DEMO.toString()))
                        .toArray(String[]::new)));
    }

    private static String firstLine(Ran ran) {
        assertThat(ran.code()).isEqualTo(2);
        assertThat(ran.out()).isEmpty();
        return ran.err().lines().findFirst().orElseThrow();
    }

    @Test
    void wrongOptions_saySo() {
        assertThat(firstLine(convert("circle", "1600")))
                .isEqualTo("QUANTITY: read \"circle\"; accepted: uncut diameter, turn radius, turning circle diameter,"
                        + " clearance circle diameter.");
        assertThat(firstLine(convert("min. turning radius", "8 ft 6 in")))
                .startsWith(
                        "QUANTITY: read \"min. turning radius\". A radius may be half of any of three circles: write twice"
                                + " the figure, as turning circle diameter ");
        assertThat(firstLine(convert("turn radius", "1,5m")))
                .isEqualTo("VALUE: read \"1,5m\"; accepted: a length such as 1.58 m, 158 cm, 1580 mm, 62 in, 62 3/8 in,"
                        + " 62-3/8\" or 5 ft 2 in. If the comma is a decimal sign, write a point.");
        assertThat(firstLine(convert("turn radius", "0"))).isEqualTo("VALUE: read \"0\"; accepted: a length above 0.");
        assertThat(firstLine(convert("turn radius", "1600", "--blade", "900,300")))
                .isEqualTo(
                        "--blade: read \"900,300\"; accepted: 3 lengths with commas between them, AHEAD,LEFT,TIP. Write"
                                + " decimals with a point.");
        assertThat(firstLine(convert("turn radius", "1600", "--blade", "900,300,0")))
                .isEqualTo("--blade: read \"900,300,0\"; accepted: a tip radius above 0.");
        assertThat(firstLine(convert("turn radius", "1600", "--turn", "north")))
                .isEqualTo("--turn: read \"north\"; accepted: left, right.");
        assertThat(firstLine(convert("turn radius", "1600", "--unit", "yd")))
                .isEqualTo("--unit: read \"yd\"; accepted: mm, cm, m, in or ft.");
        assertThat(firstLine(convert("turn radius", "1600", "--outermost", "2000,-1")))
                .isEqualTo("--outermost: read \"2000,-1\"; accepted: a distance from the centreline of 0 or more.");
        assertThat(firstLine(convert("turn radius", "1600", "--folder", Given.DEMO.toString())))
                .isEqualTo("--machine: not given; accepted: one of Alder 22, Basalt 25.");
        assertThat(firstLine(convert("turn radius", "1600", "--folder", Given.DEMO.toString(), "--machine", "Cedar")))
                .isEqualTo("--machine: read \"Cedar\"; accepted: one of Alder 22, Basalt 25.");
    }

    @Test
    void aFolderToMend_isListed() {
        Given given = Given.soundFolder(above.resolve("meadow")).without("machines.csv");
        Ran ran = convert("turn radius", "1600", "--folder", given.argument());
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.err()).startsWith("machines.csv: found no such file; accepted: ");
    }
}
