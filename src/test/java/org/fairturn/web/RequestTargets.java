package org.fairturn.web;

import static org.fairturn.Fuzzing.promise;

import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.nio.charset.StandardCharsets;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.fairturn.Fuzzing;

/** Bytes sent to a running server. */
public final class RequestTargets {
    private static final Pattern STATUS = Pattern.compile("HTTP/1\\.1 ([0-9]{3}) [^\r]*\r\n");
    private static final int PATIENCE_MILLIS = 4_000;

    private RequestTargets() {}

    /** Whatever is sent, what comes back is an answer without anything of the program in it, or nothing. */
    public static boolean raw(int port, byte[] input) throws IOException {
        String answer = answer(port, input);
        Matcher status = STATUS.matcher(answer);
        if (answer.isEmpty() || !status.lookingAt()) {
            promise(answer.isEmpty() || answer.length() < 200, "an answer: " + answer);
            return false;
        }
        int code = Integer.parseInt(status.group(1));
        promise(code < 500 || code == 501 || code == 505, "no fault of the program's own: " + answer);
        int head = answer.indexOf("\r\n\r\n");
        promise(head > 0, "a whole head: " + answer);
        Fuzzing.neverATrace(answer, new String(input, StandardCharsets.ISO_8859_1));
        promise(!answer.substring(0, head).contains("Server:"), "no name of a server");
        promise(!answer.contains("root:x:"), "no file of the system");
        boolean page = answer.substring(0, head).contains("text/html");
        promise(!page || answer.contains("Content-Security-Policy: "), "a page has its policy");
        return code < 400;
    }

    /** All that comes back until the server ends the connection or says no more. */
    private static String answer(int port, byte[] input) throws IOException {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            socket.setSoTimeout(PATIENCE_MILLIS);
            StringBuilder all = new StringBuilder();
            try {
                socket.getOutputStream().write(input);
                socket.shutdownOutput();
                InputStream in = socket.getInputStream();
                byte[] part = new byte[1 << 16];
                for (int n = in.read(part); n > 0; n = in.read(part)) {
                    all.append(new String(part, 0, n, StandardCharsets.ISO_8859_1));
                }
            } catch (SocketTimeoutException restsForMore) {
                // it waits for the rest of a request, as it should
            } catch (IOException ended) {
                // refused before all of it was sent
            }
            return all.toString();
        }
    }
}
