package org.fairturn.web;

/** Ends a request with a page that says what happened and what to do. */
final class Refusal extends RuntimeException {
    private static final long serialVersionUID = 1;

    private final int status;
    private final String todo;

    Refusal(int status, String happened, String todo) {
        super(happened, null, false, false);
        this.status = status;
        this.todo = todo;
    }

    int status() {
        return status;
    }

    String todo() {
        return todo;
    }

    static Refusal noSuchPage() {
        return new Refusal(
                404,
                "There is no such page",
                "It may have been renamed or removed. Start again from the list of trials.");
    }
}
