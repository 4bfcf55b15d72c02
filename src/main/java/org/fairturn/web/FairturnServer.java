package org.fairturn.web;

import io.javalin.Javalin;
import io.javalin.compression.CompressionStrategy;
import io.javalin.config.JavalinConfig;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import io.javalin.util.JavalinException;
import java.net.BindException;
import java.time.InstantSource;
import java.util.List;
import java.util.logging.Level;
import java.util.logging.Logger;
import org.eclipse.jetty.server.AbstractConnector;
import org.eclipse.jetty.server.Connector;
import org.eclipse.jetty.server.NetworkConnectionLimit;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.handler.MinimumDataRateHandler;
import org.eclipse.jetty.util.thread.QueuedThreadPool;

/** Serves the pages of one folder. */
public final class FairturnServer {
    private static final long LARGEST_FORM = 64_000;
    private static final int LARGEST_HEADER = 8_000;
    private static final long IDLE_MILLIS = 20_000;
    /** A form of a kilobyte in less than ten seconds; slower senders only hold a thread. */
    private static final long SLOWEST_BYTES_A_SECOND = 100;

    private static final int MOST_THREADS = 32;
    private static final int MOST_CONNECTIONS = 200;

    /** Held here, or the log manager would forget the levels set below. */
    private static final List<Logger> QUIETED =
            List.of(Logger.getLogger("org.eclipse.jetty"), Logger.getLogger("io.javalin"));

    private final Settings settings;
    private final String code;
    private final DoorPages door;
    private final Estimates estimates = new Estimates();
    private final Javalin javalin;

    private FairturnServer(Settings settings, InstantSource clock) {
        QUIETED.forEach(logger -> logger.setLevel(Level.OFF));
        Secrets secrets = new Secrets();
        Visitors visitors = new Visitors(clock);
        Assets assets = new Assets();
        Trials trials = new Trials(settings.folder());
        Pages pages = new Pages(assets, visitors, settings.lan());
        this.settings = settings;
        this.code = secrets.code();
        this.door = new DoorPages(code, secrets, visitors, new Attempts(clock), pages);
        Guard guard = new Guard(secrets, visitors, settings.lan());
        this.javalin = Javalin.create(config -> {
            limits(config, settings.lan());
            config.routes.before(guard::check);
            config.routes.get(Assets.PATH + "<name>", assets::serve);
            routes(config.routes, trials, pages);
            failures(config.routes, pages);
        });
    }

    /** A server that is not started yet. */
    public static FairturnServer create(Settings settings) {
        return new FairturnServer(settings, InstantSource.system());
    }

    /** As {@link #create(Settings)}, with a clock of its own. */
    static FairturnServer create(Settings settings, InstantSource clock) {
        return new FairturnServer(settings, clock);
    }

    private static void limits(JavalinConfig config, boolean lan) {
        config.startup.showJavalinBanner = false;
        config.startup.showOldJavalinVersionWarning = false;
        config.startup.startupWatcherEnabled = false;
        config.http.maxRequestSize = LARGEST_FORM;
        config.http.compressionStrategy = CompressionStrategy.GZIP;
        config.jetty.host = lan ? "0.0.0.0" : "127.0.0.1";
        config.jetty.threadPool = new QueuedThreadPool(MOST_THREADS, 2);
        config.jetty.modifyHttpConfiguration(http -> {
            http.setRequestHeaderSize(LARGEST_HEADER);
            http.setSendServerVersion(false);
        });
        config.jetty.modifyServer(FairturnServer::limits);
    }

    private static void limits(Server server) {
        server.setErrorHandler(new BareErrors());
        server.setHandler(new MinimumDataRateHandler(SLOWEST_BYTES_A_SECOND, 0));
        server.addBean(new NetworkConnectionLimit(MOST_CONNECTIONS, server));
    }

    private void routes(RoutesConfig routes, Trials trials, Pages pages) {
        TrialPages trial = new TrialPages(trials, pages);
        routes.get("/", trial::list);
        routes.get("/new", trial::blank);
        routes.post("/new", trial::create);
        routes.get("/trial/{trial}", trial::overview);
        routes.get("/trial/{trial}/facts", trial::edit);
        routes.post("/trial/{trial}/facts", trial::save);
        MachinePages machine = new MachinePages(trials, pages);
        routes.get("/trial/{trial}/machines", machine::list);
        routes.get("/trial/{trial}/machine", machine::blank);
        routes.post("/trial/{trial}/machine", machine::add);
        routes.get("/trial/{trial}/machine/{machine}", machine::edit);
        routes.post("/trial/{trial}/machine/{machine}", machine::save);
        routes.post("/trial/{trial}/drawing", machine::drawing);
        CirclePages circle = new CirclePages(trials, pages);
        routes.get("/trial/{trial}/circles", circle::list);
        routes.post("/trial/{trial}/circles", circle::add);
        routes.post("/trial/{trial}/circle/{circle}", circle::save);
        EntryPages entry = new EntryPages(trials, pages, estimates);
        routes.get("/trial/{trial}/circle/{circle}", entry::show);
        routes.get("/trial/{trial}/circle/{circle}/readings", entry::readings);
        routes.post("/trial/{trial}/circle/{circle}/readings", entry::save);
        routes.post("/trial/{trial}/circle/{circle}/undo", entry::undo);
        routes.get("/trial/{trial}/circle/{circle}/estimate", entry::estimate);
        routes.get("/trial/{trial}/length", entry::echo);
        Reports reports = new Reports();
        ResultPages result = new ResultPages(trials, pages, reports);
        routes.get("/trial/{trial}/findings", result::findings);
        routes.get("/trial/{trial}/report.html", result::report);
        routes.get("/trial/{trial}/chart/{name}", result::chart);
        routes.get("/trial/{trial}/file/{name}", result::file);
        routes.get("/trial/{trial}/file/charts/{name}", result::drawing);
        ProblemPages problem = new ProblemPages(trials, pages, reports);
        routes.get("/trial/{trial}/problems", problem::list);
        RowPages row = new RowPages(trials, pages);
        routes.get("/trial/{trial}/row/{file}/{number}", row::edit);
        routes.post("/trial/{trial}/row/{file}/{number}", row::save);
        routes.get(Guard.ENTER, door::enter);
        routes.post(Guard.ENTER, door::admit);
        if (settings.lan()) {
            routes.get("/phones", door::phones);
        }
    }

    /**
     * A page for what went wrong.
     *
     * @param todo what to do about it
     */
    public record FailureView(String todo) {}

    private static void failures(RoutesConfig routes, Pages pages) {
        routes.exception(
                Refusal.class,
                (refusal, context) -> fail(context, pages, refusal.status(), refusal.getMessage(), refusal.todo()));
        routes.exception(HttpResponseException.class, (refused, context) -> {
            Refusal plain = plain(refused.getStatus());
            fail(context, pages, plain.status(), plain.getMessage(), plain.todo());
        });
        routes.exception(
                Exception.class,
                (fault, context) -> fail(
                        context,
                        pages,
                        500,
                        "Fairturn came upon a fault of its own, not of yours ("
                                + fault.getClass().getSimpleName() + ")",
                        "Nothing half was saved. Go back and try again; if it stays, report it together with the trial"
                                + " folder and what you did."));
    }

    private static Refusal plain(int status) {
        return switch (status) {
            case 413 -> new Refusal(413, "This form is too long", "Shorten the longest text and send it again.");
            case 404, 405 -> Refusal.noSuchPage();
            default -> new Refusal(status, "This could not be understood", "Use the links and buttons of the pages.");
        };
    }

    private static void fail(Context context, Pages pages, int status, String happened, String todo) {
        pages.show(context.status(status), "failure", happened, new FailureView(todo));
    }

    /**
     * Listens from now on.
     *
     * @return false where the port is taken
     */
    public boolean start() {
        try {
            javalin.start(settings.port());
        } catch (JavalinException refused) {
            for (Throwable cause = refused; cause != null; cause = cause.getCause()) {
                if (cause instanceof BindException) {
                    javalin.stop();
                    return false;
                }
            }
            throw refused;
        }
        for (Connector connector : javalin.jettyServer().server().getConnectors()) {
            ((AbstractConnector) connector).setIdleTimeout(IDLE_MILLIS);
        }
        return true;
    }

    public void stop() {
        javalin.stop();
        estimates.stop();
    }

    public int port() {
        return javalin.port();
    }

    /** What is typed into the browser of this machine. */
    public String address() {
        return "http://127.0.0.1:" + port() + "/";
    }

    /** What is typed into a phone's browser; none without LAN. */
    public List<String> networkAddresses() {
        return settings.lan() ? DoorPages.addresses(port()) : List.of();
    }

    /** What a phone is asked for. */
    public String accessCode() {
        return code;
    }

    /** A code for a phone's camera, drawn with block characters. */
    public String drawnInvitation() {
        return door.drawn(port());
    }
}
