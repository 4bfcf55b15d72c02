package org.fairturn.finding;

/**
 * One point that makes a comparison of machines fair, held against the trial.
 *
 * @param name as results.json writes it
 * @param title in a few words
 * @param status met, not met or not stated
 * @param detail what the trial says about it, in plain words
 */
public record FairnessPoint(String name, String title, Status status, String detail) {
    /** Whether the trial shows it. */
    public enum Status {
        /** Nothing speaks against the comparison here. */
        MET("met"),
        /** The comparison is unfair in this. */
        NOT_MET("not met"),
        /** The trial does not say; nobody knows from it whether it was met. */
        NOT_STATED("not stated");

        private final String word;

        Status(String word) {
            this.word = word;
        }

        /** {@return how results.json writes it} */
        public String word() {
            return word;
        }
    }
}
