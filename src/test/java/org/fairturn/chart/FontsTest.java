package org.fairturn.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.fairturn.units.LengthUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Starts a second Java, since fonts and screen are looked up once in a program's life. */
class FontsTest {
    @TempDir
    Path home;

    /** What a machine answers: the reason, or how many of the three charts were drawn. */
    static final class Ask {
        public static void main(String[] arguments) {
            System.out.println(
                    Charts.runOrder(Samples.twoMachines(), LengthUnit.INCH).isPresent());
            System.out.println(Charts.leftRight(Samples.decompositions(), 0.05, LengthUnit.INCH)
                    .isPresent());
            System.out.println(
                    Charts.diameters(Samples.twoMachines(), LengthUnit.INCH).isPresent());
            System.out.println(PlanView.draw(Samples.scene()).svg().startsWith("<svg"));
            System.out.println(Charts.unavailable().orElse("fonts found"));
        }
    }

    private List<String> ask(Map<String, String> environment) throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Duser.home=" + home,
                "-cp",
                System.getProperty("java.class.path"),
                Ask.class.getName()));
        Path answer = home.resolve("answer");
        ProcessBuilder builder =
                new ProcessBuilder(command).redirectErrorStream(true).redirectOutput(answer.toFile());
        // these would make Java greet us on the same stream
        builder.environment().keySet().removeAll(List.of("JAVA_TOOL_OPTIONS", "_JAVA_OPTIONS", "JDK_JAVA_OPTIONS"));
        builder.environment().putAll(environment);
        int exit = builder.start().waitFor();
        List<String> lines = Files.readAllLines(answer, StandardCharsets.UTF_8);
        assertThat(exit).as(String.join("\n", lines)).isZero();
        return lines;
    }

    @Test
    void withoutFonts_chartsAreLeftOut_oneLineSaysWhatToInstall_andThePlanViewRemains() throws Exception {
        assumeTrue(
                System.getProperty("os.name").equals("Linux"),
                "fonts can only be hidden where fontconfig is asked for them");
        Path configuration =
                Files.writeString(home.resolve("fonts.conf"), "<?xml version=\"1.0\"?>\n<fontconfig></fontconfig>\n");
        assertThat(ask(Map.of("FONTCONFIG_FILE", configuration.toString())))
                .containsExactly(
                        "false",
                        "false",
                        "false",
                        "true",
                        "Charts were left out: this machine has no fonts Java can use. Install any font package,"
                                + " for example fontconfig and fonts-dejavu-core, and run again.");
    }

    @Test
    void aScreenThatCannotBeReached_doesNotMatter() throws Exception {
        assertThat(ask(Map.of("DISPLAY", ":4711"))).containsExactly("true", "true", "true", "true", "fonts found");
    }
}
