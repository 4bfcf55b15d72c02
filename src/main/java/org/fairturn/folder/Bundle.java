package org.fairturn.folder;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.util.Locale;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

/** A trial in one zip file, its files in a folder of the trial's name, with whatever is handed over beside them. */
public final class Bundle {
    /** The results a bundle was made with. */
    public static final String RESULTS = "results.json";
    /** How they were worked out, in words. */
    public static final String METHOD = "METHOD.txt";

    static final String ENDING = ".zip";
    /** The earliest a zip can write without saying in which time zone. */
    private static final LocalDateTime TIME = LocalDateTime.of(1980, 1, 1, 0, 0);

    private Bundle() {}

    /**
     * {@return whether a path is one, by its name: a file, not a folder, that ends in {@code .zip}}
     *
     * @param path need not exist
     */
    public static boolean is(Path path) {
        return TrialFolder.nameOf(path).toLowerCase(Locale.ROOT).endsWith(ENDING) && Files.isRegularFile(path);
    }

    /**
     * {@return what a trial folder or bundle is called: {@code meadow} for {@code meadow.zip}; a name that can stand in a
     * path}
     *
     * @param path of a trial folder or bundle; need not exist
     */
    public static String nameOf(Path path) {
        String name = TrialFolder.nameOf(path);
        return is(path) && name.length() > ENDING.length()
                ? BundleReader.harmless(name.substring(0, name.length() - ENDING.length())) // "...zip" would lead out
                : name;
    }

    /**
     * {@return the bytes of a bundle: the same files in the same order give the same bytes}
     *
     * @param name of the trial, which becomes the folder inside; what a path cannot hold becomes an underscore
     * @param files contents by name, in the order they are to lie
     */
    public static byte[] pack(String name, Map<String, byte[]> files) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (ZipOutputStream zip = new ZipOutputStream(bytes, StandardCharsets.UTF_8)) {
            for (Map.Entry<String, byte[]> file : files.entrySet()) {
                ZipEntry entry = new ZipEntry(BundleReader.harmless(name) + "/" + file.getKey());
                entry.setTimeLocal(TIME);
                zip.putNextEntry(entry);
                zip.write(file.getValue());
                zip.closeEntry();
            }
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible); // memory does not fail to be written to
        }
        return bytes.toByteArray();
    }
}
