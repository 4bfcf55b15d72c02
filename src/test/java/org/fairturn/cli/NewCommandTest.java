package org.fairturn.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class NewCommandTest {
    @TempDir
    Path above;

    @Test
    void aNewFolder_comesWithTheNextStep_andTheUsualCautions() {
        Path folder = above.resolve("lower meadow");
        assertThat(Ran.here("new", folder.toString())).isEqualTo(new Ran(0, folder + "\n", """
                                Fill in trial.csv, machines.csv, circles.csv and readings.csv; the others help where you have them.
                                Kinds of reading: across; chord and rise; three stakes.
                                Then: fairturn check "%s"
                                Driving: level ground, seat belt on and ROPS up, slow at full lock, nobody within the discharge area.
                                Before anyone measures or touches the deck: blades disengaged, brake set, engine stopped, key out.
                                Before anyone touches a steering stop: wheels chocked, machine on rated stands, tyres at pressure.
                                A steering stop is set to the manufacturer's dimension and must touch the axle at full lock. Where both cannot be had, contact comes first. A stop is never turned in past the specification to get a tighter circle: linkage, cylinder, tyre and hood pay for it.
                                The service manual, local rules and a qualified technician have the last word.
                                """.formatted(folder)));
        assertThat(folder.resolve("readings.csv")).isNotEmptyFile();
    }

    @Test
    void aFolderThatHoldsATrial_isLeftAsItIs() {
        Given given = Given.soundFolder(above.resolve("meadow"));
        var before = Given.everythingBelow(above);
        Ran ran = Ran.here("new", given.argument());
        assertThat(ran.code()).isEqualTo(1);
        assertThat(ran.out()).isEmpty();
        assertThat(ran.err().lines())
                .hasSize(4)
                .contains("trial.csv: found a file that is there already; accepted: a folder without any trial file."
                        + " Choose another folder; nothing was changed in this one.");
        assertThat(Given.everythingBelow(above)).isEqualTo(before);
    }
}
