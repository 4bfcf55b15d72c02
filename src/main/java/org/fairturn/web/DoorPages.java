package org.fairturn.web;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.EncodeHintType;
import com.google.zxing.WriterException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.QRCodeWriter;
import io.javalin.http.Context;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.fairturn.web.Page.Fault;

/** The way in for phones: the code to type, and the page on this machine that shows it. */
public final class DoorPages {
    private final String code;
    private final Secrets secrets;
    private final Visitors visitors;
    private final Attempts attempts;
    private final Pages pages;

    DoorPages(String code, Secrets secrets, Visitors visitors, Attempts attempts, Pages pages) {
        this.code = code;
        this.secrets = secrets;
        this.visitors = visitors;
        this.attempts = attempts;
        this.pages = pages;
    }

    /**
     * The field for the code.
     *
     * @param code where the code is typed
     */
    public record EnterView(Field code) {}

    void enter(Context context) {
        if (Visit.of(context).admitted()) {
            context.redirect("/");
            return;
        }
        String brought = Optional.ofNullable(context.queryParam("code")).orElse("");
        showEnter(context, brought.matches("[A-Z0-9]{6}") ? brought : "", List.of());
    }

    private void showEnter(Context context, String typed, List<Fault> faults) {
        Field field = Field.text(
                "code",
                "Access code",
                "Six letters and digits. They stand on the machine Fairturn runs on, where it was started and on the page"
                        + " Phones.");
        pages.show(
                context,
                "enter",
                "Enter",
                Optional.empty(),
                "",
                faults,
                new EnterView(field.with(typed).with(faults)));
    }

    void admit(Context context) {
        String address = context.req().getRemoteAddr();
        long wait = attempts.begin(address);
        if (wait > 0) {
            context.header("Retry-After", String.valueOf(wait));
            throw new Refusal(
                    429,
                    "Too many wrong codes",
                    "Wait " + wait + " seconds, look the code up again, and enter it once more.");
        }
        String typed =
                TrialPages.typed(context).apply("code").toUpperCase(Locale.ROOT).replaceAll("[\\s-]", "");
        if (!Secrets.same(code, typed)) {
            showEnter(
                    context,
                    "",
                    List.of(new Fault(
                            Field.id("code"),
                            "This is not the code. It changes every time Fairturn is started: look it up again.")));
            return;
        }
        attempts.right(address);
        String name = secrets.name();
        visitors.admit(name);
        Guard.send(context, name);
        context.redirect("/", io.javalin.http.HttpStatus.SEE_OTHER);
    }

    /**
     * The way in.
     *
     * @param code that the phone is asked for
     * @param addresses what may be typed into the phone's browser
     * @param side of the code, in modules
     * @param path of its dark modules, in SVG
     */
    public record PhonesView(String code, List<String> addresses, int side, String path) {}

    void phones(Context context) {
        if (!Visit.of(context).here()) {
            throw new Refusal(
                    403,
                    "This page is shown on the machine Fairturn runs on only",
                    "Look at that machine to see the access code.");
        }
        int port = context.req().getLocalPort();
        List<String> addresses = addresses(port);
        BitMatrix matrix = matrix(invitation(port));
        pages.showAt(
                context,
                "phones",
                "Phones",
                "phones",
                new PhonesView(code, addresses, matrix.getWidth(), path(matrix)));
    }

    static List<String> addresses(int port) {
        return Addresses.inNetwork().stream()
                .map(address -> "http://" + address + ":" + port + "/")
                .toList();
    }

    /** The address a phone's camera opens; the code is in it, and still a button has to be pressed. */
    private String invitation(int port) {
        List<String> addresses = addresses(port);
        String first = addresses.isEmpty() ? "http://" + Addresses.machineName() + ":" + port + "/" : addresses.get(0);
        return first + "enter?code=" + code;
    }

    /** The invitation for a terminal with light letters on dark, two rows of modules a line; the page shows it on any. */
    String drawn(int port) {
        BitMatrix matrix = matrix(invitation(port));
        StringBuilder text = new StringBuilder();
        for (int y = 0; y < matrix.getHeight(); y += 2) {
            for (int x = 0; x < matrix.getWidth(); x++) {
                boolean above = matrix.get(x, y);
                boolean below = y + 1 < matrix.getHeight() && matrix.get(x, y + 1);
                text.append(above ? below ? ' ' : '▄' : below ? '▀' : '█');
            }
            text.append('\n');
        }
        return text.toString();
    }

    private static BitMatrix matrix(String text) {
        try {
            return new QRCodeWriter().encode(text, BarcodeFormat.QR_CODE, 0, 0, Map.of(EncodeHintType.MARGIN, 4));
        } catch (WriterException tooLong) {
            throw new IllegalStateException(tooLong); // an address is far shorter than a code can hold
        }
    }

    private static String path(BitMatrix matrix) {
        StringBuilder path = new StringBuilder();
        for (int y = 0; y < matrix.getHeight(); y++) {
            for (int x = 0; x < matrix.getWidth(); x++) {
                if (matrix.get(x, y)) {
                    path.append('M').append(x).append(' ').append(y).append("h1v1h-1z");
                }
            }
        }
        return path.toString();
    }
}
