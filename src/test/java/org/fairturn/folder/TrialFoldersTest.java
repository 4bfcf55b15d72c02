package org.fairturn.folder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NotDirectoryException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TrialFoldersTest {
    @TempDir
    Path archive;

    private void trial(String folder) throws IOException {
        Files.createDirectories(archive.resolve(folder));
        Files.writeString(archive.resolve(folder).resolve("trial.csv"), "");
    }

    private List<String> found() throws IOException {
        return TrialFolders.below(archive).stream()
                .map(folder -> archive.relativize(folder).toString().replace('\\', '/'))
                .toList();
    }

    @Test
    void foldersComeByName_aFolderBeforeThoseInIt() throws IOException {
        trial("b");
        trial("a10");
        trial("a2");
        trial("b/again");
        trial("2025/may/meadow");
        trial("2025/april");
        assertThat(found()).containsExactly("2025/april", "2025/may/meadow", "a10", "a2", "b", "b/again");
    }

    @Test
    void aFolderDirectlyBelowWithoutItsTrialSheet_counts_oneDeeperDownDoesNot() throws IOException {
        Files.createDirectories(archive.resolve("empty"));
        Files.createDirectories(archive.resolve("no sheet/pictures"));
        trial("meadow");
        Files.createDirectories(archive.resolve("meadow/pictures"));
        assertThat(found()).containsExactly("empty", "meadow", "no sheet");
    }

    @Test
    void filesAndHiddenFolders_areNoTrials_andLetterCaseDoesNotMatter() throws IOException {
        trial(".trash/old");
        Files.writeString(archive.resolve("notes.txt"), "");
        Files.writeString(archive.resolve("trial.csv"), "");
        Files.createDirectories(archive.resolve("upper/inner"));
        Files.writeString(archive.resolve("upper/inner/TRIAL.CSV"), "");
        assertThat(found()).containsExactly("upper/inner");
        assertThat(TrialFolders.isTrial(archive)).isTrue();
        assertThat(TrialFolders.isTrial(archive.resolve("upper"))).isFalse();
    }

    @Test
    void aCircleOfLinks_comesToAnEnd() throws IOException {
        trial("meadow");
        Files.createSymbolicLink(archive.resolve("meadow/round"), archive);
        Files.createSymbolicLink(archive.resolve("linked"), archive.resolve("meadow"));
        assertThat(found()).containsExactly("linked", "meadow");
    }

    @Test
    void whatIsNoFolder_cannotBeListed() {
        assertThatThrownBy(() -> TrialFolders.below(archive.resolve("gone"))).isInstanceOf(NotDirectoryException.class);
        assertThat(TrialFolders.isTrial(archive.resolve("gone"))).isFalse();
    }
}
