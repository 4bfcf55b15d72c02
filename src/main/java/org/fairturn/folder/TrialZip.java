package org.fairturn.folder;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

/** The files of a trial in one archive, byte for byte as they are on disk. */
public final class TrialZip {
    /** The earliest time a ZIP entry can carry; the same for all, so that the same files make the same archive. */
    private static final LocalDateTime NO_TIME = LocalDateTime.of(1980, 1, 1, 0, 0);

    private TrialZip() {}

    /**
     * Those files of {@link TrialFile} that are there, all of one moment, in their order; empty where none is.
     *
     * @param folder of the trial
     * @return the bytes of a zip, empty where there is no file
     */
    public static byte[] of(Path folder) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (ZipOutputStream zip = new ZipOutputStream(bytes)) {
            Map<String, byte[]> contents = FolderFiles.open(folder, new Problems())
                    .map(files -> files.taken().contents())
                    .orElse(Map.of());
            for (TrialFile file : TrialFile.values()) {
                byte[] content = contents.get(file.fileName());
                if (content != null) {
                    ZipEntry entry = new ZipEntry(file.fileName());
                    entry.setTimeLocal(NO_TIME);
                    zip.putNextEntry(entry);
                    zip.write(content);
                    zip.closeEntry();
                }
            }
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible); // memory does not fail to be written to
        }
        return bytes.toByteArray();
    }
}
