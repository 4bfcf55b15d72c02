package org.fairturn.web;

import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.HttpResponseException;
import io.javalin.http.SameSite;
import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * Stands before every page. Any page a browser shows could send requests here, under a name that was made to point to this
 * machine: so host, origin and form token are looked at, loopback or not.
 */
final class Guard {
    static final String ENTER = "/enter";
    static final String TOKEN_FIELD = "token";
    static final String TOKEN_HEADER = "X-Fairturn-Token";
    static final String POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:;"
            + " connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'";

    /** So many times as long as the longest form is still taken, though nothing is done with it. */
    private static final int THROWN_AWAY = 16;

    private static final Pattern WRONG_ESCAPE = Pattern.compile("%(?![0-9A-Fa-f]{2})");
    private static final Pattern ADDRESS = Pattern.compile(
            "\\[[0-9a-f:.%a-z]+]|(25[0-5]|2[0-4][0-9]|1?[0-9]?[0-9])(\\.(25[0-5]|2[0-4][0-9]|1?[0-9]?[0-9])){3}");

    /** Fields that nobody types into. */
    private static final Pattern HIDDEN = Pattern.compile("token|entry|(.*\\.)?(key|seen)|(was|seen):.*");

    private final Secrets secrets;
    private final Visitors visitors;
    private final boolean lan;
    private final long largestForm;

    Guard(Secrets secrets, Visitors visitors, boolean lan, long largestForm) {
        this.largestForm = largestForm;
        this.secrets = secrets;
        this.visitors = visitors;
        this.lan = lan;
    }

    void check(Context context) {
        context.header("Content-Security-Policy", POLICY)
                .header("X-Content-Type-Options", "nosniff")
                .header("X-Frame-Options", "DENY")
                // with no-referrer browsers would leave the origin out of forms
                .header("Referrer-Policy", "same-origin")
                .header("Cross-Origin-Resource-Policy", "same-origin")
                .header("Cross-Origin-Opener-Policy", "same-origin")
                .header("Cache-Control", "no-store");
        String method = context.method().name();
        boolean reads = method.equals("GET") || method.equals("HEAD");
        ownHost(context);
        if (WRONG_ESCAPE.matcher(context.req().getRequestURI()).find()) {
            throw Refusal.noSuchPage();
        }
        if (!reads) {
            if (!method.equals("POST")) {
                throw new Refusal(405, "This is not how this page is asked for", "Use the links and buttons.");
            }
            ownOrigin(context);
            ownLength(context);
        }
        Visit visit = visit(context);
        visit.attach(context);
        boolean open = context.path().equals(ENTER) || context.path().startsWith(Assets.PATH);
        if (!visit.admitted() && !open) {
            turnAway(context, reads);
        } else if (!reads) {
            ownForm(context, visit);
        }
    }

    private static Refusal foreign(String happened) {
        return new Refusal(
                403, happened, "Open the address that Fairturn showed when it started, and try again there.");
    }

    private void ownHost(Context context) {
        String host = context.header("Host");
        boolean loopback = isLoopback(context.req().getRemoteAddr());
        if (!loopback && !lan) {
            throw foreign("Only the machine Fairturn runs on may enter");
        }
        String authority = context.req().getServerName() + ":" + context.req().getServerPort();
        if (host == null || !isOwn(host, context) || !isOwn(authority, context)) {
            throw foreign("This address is not one of Fairturn's own");
        }
    }

    /** True where host and port are those the request came in at, or a name of this machine stands for the host. */
    private boolean isOwn(String host, Context context) {
        int colon = host.lastIndexOf(':');
        boolean hasPort = colon > host.lastIndexOf(']');
        String name = (hasPort ? host.substring(0, colon) : host).toLowerCase(Locale.ROOT);
        String port = hasPort ? host.substring(colon + 1) : "80";
        if (!port.equals(String.valueOf(context.req().getLocalPort()))) {
            return false;
        }
        String local = context.req().getLocalAddr();
        if (name.equals("localhost")) {
            return isLoopback(local);
        }
        if (lan && name.equals(Addresses.machineName())) {
            return true;
        }
        return isAddress(name) && address(name).equals(address(local));
    }

    /** True for an address in figures, which is never looked up; {@code 999.1.1.1} would be, as a name. */
    private static boolean isAddress(String text) {
        return ADDRESS.matcher(text).matches();
    }

    private static InetAddress address(String figures) {
        try {
            return InetAddress.getByName(figures);
        } catch (UnknownHostException malformed) {
            throw foreign("This address is not one of Fairturn's own");
        }
    }

    static boolean isLoopback(String figures) {
        return address(figures).isLoopbackAddress();
    }

    private static void ownOrigin(Context context) {
        if (!isFromOwnPage(context)) {
            throw foreign("This was sent from a page that is not Fairturn's own, so nothing was done");
        }
    }

    private static boolean isFromOwnPage(Context context) {
        String site = context.header("Sec-Fetch-Site");
        String origin = context.header("Origin");
        String own = "http://" + context.header("Host");
        return (site == null || site.equals("same-origin")) && own.equalsIgnoreCase(origin);
    }

    /**
     * What somebody typed into a form that was turned away, by the name of each field, so that it can be copied from the page
     * that says so. Of a form that no page of ours has sent, or that is too long to be read, nothing.
     */
    static Map<String, String> typed(Context context, int status) {
        Map<String, String> typed = new LinkedHashMap<>();
        boolean readable =
                context.method().name().equals("POST") && context.isFormUrlencoded() && status != 411 && status != 413;
        if (readable && isFromOwnPage(context) && !context.path().equals(ENTER)) {
            fields(context).orElse(Map.of()).forEach((name, values) -> {
                // a field whose escapes cannot be read comes without a value
                if (!HIDDEN.matcher(name).matches()
                        && !values.isEmpty()
                        && !values.get(0).isBlank()) {
                    typed.put(name.replace('.', ' '), values.get(0));
                }
            });
        }
        return typed;
    }

    /** Empty where the content ended early, dripped too slowly, or cannot be read; Javalin does not say what it throws then. */
    private static Optional<Map<String, List<String>>> fields(Context context) {
        try {
            return Optional.of(context.formParamMap());
        } catch (HttpResponseException refused) {
            throw refused;
        } catch (Exception unreadable) {
            return Optional.empty();
        }
    }

    /** Looked at before any of the content is taken. Browsers say how long their forms are. */
    private void ownLength(Context context) {
        long length = context.req().getContentLengthLong();
        if (length < 0) {
            throw new Refusal(411, "This was sent without its length", "Use the buttons on the pages.");
        }
        if (length > largestForm) {
            if (length <= THROWN_AWAY * largestForm) {
                throwAway(context);
            }
            throw tooLong();
        }
    }

    /** Reads to the end what will not be looked at: who is still sending would not get to read the answer. */
    private static void throwAway(Context context) {
        try {
            context.req().getInputStream().transferTo(OutputStream.nullOutputStream());
        } catch (IOException broken) {
            // nobody is there any more to be told
        }
    }

    static Refusal tooLong() {
        return new Refusal(413, "This form is too long", "Shorten the longest text and send it again.");
    }

    private Visit visit(Context context) {
        boolean here = isLoopback(context.req().getRemoteAddr());
        String cookie = "fairturn-" + context.req().getLocalPort();
        String name = context.cookie(cookie);
        if (!Secrets.isName(name)) {
            name = secrets.name();
            send(context, name);
        }
        return new Visit(name, secrets.formToken(name), here, here || visitors.isAdmitted(name));
    }

    /** A visitor who was let in gets a new name: nobody can have planted it. */
    static void send(Context context, String name) {
        Cookie cookie = new Cookie("fairturn-" + context.req().getLocalPort(), name);
        cookie.setHttpOnly(true);
        cookie.setSameSite(SameSite.STRICT);
        context.cookie(cookie);
    }

    private static void turnAway(Context context, boolean reads) {
        if (context.header("HX-Request") != null) { // a piece of a page: the page itself has to go to the door
            context.header("HX-Redirect", ENTER);
            throw new Refusal(401, "The access has ended", "Enter the code again.");
        }
        if (!reads) {
            throw new Refusal(
                    401,
                    "The access has ended, so nothing was saved",
                    "Enter the code again; then go back and send it once more.");
        }
        context.redirect(ENTER);
        context.skipRemainingHandlers();
    }

    private static void ownForm(Context context, Visit visit) {
        if (!context.isFormUrlencoded()) {
            throw new Refusal(415, "This was not sent by one of Fairturn's forms", "Use the buttons on the pages.");
        }
        String header = context.header(TOKEN_HEADER);
        List<String> fields = fields(context)
                .orElseThrow(() -> new Refusal(
                        400,
                        "This was not sent to its end",
                        "Nothing was saved. Go back and send it again; if it stays, come nearer to the machine Fairturn"
                                + " runs on."))
                .getOrDefault(TOKEN_FIELD, List.of());
        String given = header != null ? header : fields.isEmpty() ? null : fields.get(0);
        if (!Secrets.same(visit.token(), given)) {
            throw new Refusal(
                    403,
                    "This form is older than the server, or was sent by somebody else; nothing was saved",
                    "Go back, load the page again and send it once more.");
        }
    }
}
