package org.fairturn.cli;

/** The {@code fairturn} command. */
public final class Fairturn {
    private Fairturn() {}

    public static void main(String[] args) {
        System.exit(2);
    }
}
