package org.fairturn.web;

import io.javalin.http.Context;

/**
 * Who sends a request.
 *
 * @param name a cookie nobody can guess
 * @param token what this visitor's forms carry
 * @param here true on the machine the server runs on
 * @param admitted whether pages of trials may be shown
 */
record Visit(String name, String token, boolean here, boolean admitted) {
    private static final String ATTRIBUTE = "visit";

    static Visit of(Context context) {
        return context.attribute(ATTRIBUTE);
    }

    void attach(Context context) {
        context.attribute(ATTRIBUTE, this);
    }
}
