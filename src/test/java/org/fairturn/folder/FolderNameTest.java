package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class FolderNameTest {
    @TempDir
    Path above;

    @Test
    void theLastNameOfThePath_withoutDotsAndTrailingSlashes() {
        String here = Path.of("").toAbsolutePath().getFileName().toString();
        assertThat(TrialFolder.nameOf(Path.of("."))).isEqualTo(here);
        assertThat(TrialFolder.nameOf(Path.of("src/.."))).isEqualTo(here);
        assertThat(TrialFolder.nameOf(Path.of("src", "main", ".."))).isEqualTo("src");
        assertThat(TrialFolder.nameOf(Path.of("src/main/"))).isEqualTo("main");
        assertThat(TrialFolder.nameOf(Path.of("src//main//."))).isEqualTo("main");
    }

    @Test
    void blanksAndOtherLetters_stay() {
        assertThat(TrialFolder.nameOf(Path.of("x/lower meadow"))).isEqualTo("lower meadow");
        Assumptions.assumeTrue(
                "UTF-8".equals(System.getProperty("sun.jnu.encoding")), "this system names no files in UTF-8");
        assertThat(TrialFolder.nameOf(Path.of("x/Große Wiese 草"))).isEqualTo("Große Wiese 草");
    }

    @Test
    void aLink_keepsTheNameItGoesBy() throws IOException {
        Path target = Files.createDirectory(above.resolve("2026-05-16"));
        Path link = Files.createSymbolicLink(above.resolve("latest"), target);
        assertThat(TrialFolder.nameOf(link)).isEqualTo("latest");
    }

    @Test
    void theRoot_hasNoNameOfItsOwn() {
        assertThat(TrialFolder.nameOf(above.getRoot())).isEqualTo("trial");
        assertThat(TrialFolder.nameOf(above.getRoot().resolve(".."))).isEqualTo("trial");
    }
}
