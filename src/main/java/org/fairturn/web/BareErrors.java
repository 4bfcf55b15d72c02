package org.fairturn.web;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.server.handler.ErrorHandler;
import org.eclipse.jetty.util.Callback;

/** One line for what fails before any page is reached: nothing that was sent, and nothing about the program, is shown. */
final class BareErrors extends ErrorHandler {
    private static final String LINE =
            "This could not be understood. Open the address that Fairturn showed when it started.\n";

    @Override
    protected void generateResponse(
            Request request, Response response, int code, String message, Throwable cause, Callback callback) {
        response.getHeaders().put(HttpHeader.CONTENT_TYPE, "text/plain; charset=utf-8");
        response.write(true, bytes(), callback);
    }

    private static ByteBuffer bytes() {
        return ByteBuffer.wrap(LINE.getBytes(StandardCharsets.UTF_8));
    }
}
