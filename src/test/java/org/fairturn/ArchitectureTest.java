package org.fairturn;

import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.syntax.ArchRuleDefinition;
import com.tngtech.archunit.library.dependencies.SlicesRuleDefinition;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Holds the arrows between packages. The rule is the "May use:" line of each package-info, so the two cannot drift apart. */
class ArchitectureTest {
    private static final Path SOURCES = Path.of("src/main/java/org/fairturn");
    private static final Pattern MAY_USE = Pattern.compile("May use: ([^.]+)\\.", Pattern.DOTALL);
    private static final JavaClasses CLASSES = new ClassFileImporter()
            .withImportOption(new ImportOption.DoNotIncludeTests())
            .importPackages("org.fairturn");

    /** Classes with fields that change, none of them once another thread can see the object. */
    private static final List<String> FILLED_FIRST = List.of("Bins", "Fit", "LengthReader", "Level", "Members");

    private static Map<String, List<String>> arrows() throws IOException {
        Map<String, List<String>> arrows = new TreeMap<>();
        try (Stream<Path> folders = Files.list(SOURCES)) {
            for (Path folder : folders.filter(Files::isDirectory).toList()) {
                String text = Files.readString(folder.resolve("package-info.java"));
                Matcher line = MAY_USE.matcher(text);
                assertThat(line.find())
                        .as("a line \"May use: …\" in %s", folder)
                        .isTrue();
                String list = line.group(1).replaceAll("\\s*\\*?\\s+", " ").strip();
                List<String> allowed = list.startsWith("nothing")
                        ? List.of()
                        : Arrays.stream(list.split(",")).map(String::strip).toList();
                arrows.put(folder.getFileName().toString(), allowed);
            }
        }
        return arrows;
    }

    @Test
    void everyPackage_usesOnlyWhatItsPackageInfoAllows() throws IOException {
        for (var arrow : arrows().entrySet()) {
            List<String> foreign = new ArrayList<>(arrows().keySet());
            foreign.remove(arrow.getKey());
            foreign.removeAll(arrow.getValue());
            if (foreign.isEmpty()) {
                continue;
            }
            String[] forbidden =
                    foreign.stream().map(name -> "org.fairturn." + name + "..").toArray(String[]::new);
            ArchRuleDefinition.noClasses()
                    .that()
                    .resideInAPackage("org.fairturn." + arrow.getKey() + "..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(forbidden)
                    .check(CLASSES);
        }
    }

    @Test
    void packagesFormNoCycle() {
        SlicesRuleDefinition.slices()
                .matching("org.fairturn.(*)..")
                .should()
                .beFreeOfCycles()
                .check(CLASSES);
    }

    @Test
    void theMathematicsKnowsUnitsAtMost_andNeitherFilesNorClock() throws IOException {
        for (String mathematics : List.of("geometry", "fit", "uncertainty")) {
            assertThat(arrows().get(mathematics)).as(mathematics).containsExactly("units");
        }
        ArchRuleDefinition.noClasses()
                .that()
                .resideInAnyPackage(
                        "..geometry..", "..fit..", "..uncertainty..", "..finding..", "..trial..", "..units..")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("java.io..", "java.nio..", "java.util.logging..", "java.util.random..")
                .orShould()
                .dependOnClassesThat()
                .haveFullyQualifiedName("java.util.Random")
                .orShould()
                .dependOnClassesThat()
                .haveFullyQualifiedName("java.time.Clock")
                .orShould()
                .callMethod(System.class, "currentTimeMillis")
                .orShould()
                .callMethod(System.class, "nanoTime")
                .check(CLASSES);
        assertThat(arrows().get("folder")).doesNotContain("uncertainty", "fit", "geometry", "finding");
        assertThat(arrows().get("finding")).doesNotContain("folder");
    }

    /** An analysis that is shown in the browser is read by as many threads as ask for its pages at once. */
    @Test
    void whatAnAnalysisIsMadeOf_isFinalOrVolatile() {
        ArchRuleDefinition.fields()
                .that()
                .areNotFinal()
                .and()
                .areDeclaredInClassesThat()
                .resideInAnyPackage(
                        "..geometry..", "..fit..", "..uncertainty..", "..finding..", "..trial..", "..units..")
                .and()
                .areDeclaredInClassesThat(DescribedPredicate.describe(
                        "are seen by the thread that makes them alone, or filled before others see them",
                        owner -> !FILLED_FIRST.contains(owner.getSimpleName())))
                .should()
                .haveModifier(JavaModifier.VOLATILE)
                .check(CLASSES);
    }

    @Test
    void theRulesSeeTheWholeProgram() throws IOException {
        // a rule that matches nothing passes; this floor is raised as the program grows
        assertThat(CLASSES.size()).isGreaterThanOrEqualTo(250);
        assertThat(arrows()).hasSizeGreaterThanOrEqualTo(11);
    }
}
