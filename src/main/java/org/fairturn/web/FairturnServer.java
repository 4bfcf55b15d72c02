package org.fairturn.web;

import io.javalin.Javalin;
import io.javalin.compression.CompressionStrategy;
import io.javalin.config.JavalinConfig;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import io.javalin.util.JavalinException;
import java.net.BindException;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import java.util.logging.Level;
import java.util.logging.Logger;
import org.eclipse.jetty.io.ByteBufferPool;
import org.eclipse.jetty.server.AbstractConnector;
import org.eclipse.jetty.server.Connector;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.NetworkConnectionLimit;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.server.handler.MinimumDataRateHandler;
import org.eclipse.jetty.util.thread.QueuedThreadPool;
import org.fairturn.finding.Analysis;

/** Serves the pages of one folder. */
public final class FairturnServer {
    private static final int LARGEST_HEADER = 8_000;
    /** Where connections are as many as there may be, those that rest make room sooner. */
    private static final long CROWDED_IDLE_MILLIS = 2_000;

    /** Held here, or the log manager would forget the levels set below. */
    private static final List<Logger> QUIETED =
            List.of(Logger.getLogger("org.eclipse.jetty"), Logger.getLogger("io.javalin"));

    private final Settings settings;
    private final Limits limits;
    private final String code;
    private final DoorPages door;
    private final Analyses analyses;
    private final Estimates estimates;
    private final Javalin javalin;

    private FairturnServer(Settings settings, InstantSource clock, Limits limits) {
        QUIETED.forEach(logger -> logger.setLevel(Level.OFF));
        Secrets secrets = new Secrets();
        Visitors visitors = new Visitors(clock);
        Assets assets = new Assets();
        Trials trials = new Trials(settings.folder());
        Pages pages = new Pages(assets, visitors, settings.lan());
        this.settings = settings;
        this.analyses = new Analyses(
                Analysis::of,
                trial -> settings.past().map(p -> p.taughtTo(trial)).orElse(trial));
        this.estimates = new Estimates(analyses);
        this.limits = limits;
        this.code = secrets.code();
        this.door = new DoorPages(code, secrets, visitors, new Attempts(clock), pages);
        Guard guard = new Guard(secrets, visitors, settings.lan(), limits.largestForm());
        this.javalin = Javalin.create(config -> {
            limits(config);
            config.routes.before(guard::check);
            config.routes.get(Assets.PATH + "<name>", assets::serve);
            routes(config.routes, trials, pages);
            failures(config.routes, pages);
        });
    }

    /**
     * A server that is not started yet.
     *
     * @param settings folder, port and who is let in
     * @return to be started
     */
    public static FairturnServer create(Settings settings) {
        return create(settings, steady(), Limits.USUAL);
    }

    /** Goes on evenly where somebody sets the machine's clock: set back, wrong codes would count for hours. */
    static InstantSource steady() {
        Instant start = Instant.now();
        long began = System.nanoTime();
        return () -> start.plusNanos(System.nanoTime() - began);
    }

    /** As {@link #create(Settings)}, with a clock and limits of its own. */
    static FairturnServer create(Settings settings, InstantSource clock, Limits limits) {
        return new FairturnServer(settings, clock, limits);
    }

    private void limits(JavalinConfig config) {
        config.startup.showJavalinBanner = false;
        config.startup.showOldJavalinVersionWarning = false;
        config.startup.startupWatcherEnabled = false;
        config.http.maxRequestSize = limits.largestForm();
        config.http.compressionStrategy = CompressionStrategy.GZIP;
        config.jetty.threadPool = new QueuedThreadPool(limits.threads(), 2);
        config.jetty.modifyHttpConfiguration(http -> {
            http.setRequestHeaderSize(LARGEST_HEADER);
            http.setSendServerVersion(false);
            // buffers used once are left to the collector of garbage, which does not hurry for those outside the heap
            http.setUseInputDirectByteBuffers(false);
            http.setUseOutputDirectByteBuffers(false);
        });
        config.jetty.addConnector(this::connector);
        config.jetty.modifyServer(this::limits);
    }

    /**
     * As the one Javalin makes, but no buffer serves two connections. Where a head cannot be read, Jetty 12.1.14 lets another
     * thread answer, and both may give back the request's buffer ({@code HttpConnection.releaseRequestBuffer}). From a pool it
     * is then lent to two visitors, and what one of them sends goes out in the answer to the other.
     */
    private Connector connector(Server server, HttpConfiguration http) {
        ServerConnector connector = new ServerConnector(
                server, null, null, new ByteBufferPool.NonPooling(), -1, -1, new HttpConnectionFactory(http));
        connector.setHost(settings.lan() ? "0.0.0.0" : "127.0.0.1");
        connector.setPort(settings.port());
        return connector;
    }

    private void limits(Server server) {
        server.setErrorHandler(new BareErrors());
        server.setHandler(new MinimumDataRateHandler(limits.slowest(), 0));
        NetworkConnectionLimit connections = new NetworkConnectionLimit(limits.connections(), server);
        connections.setEndPointIdleTimeout(
                Math.min(CROWDED_IDLE_MILLIS, limits.idle().toMillis()));
        server.addBean(connections);
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
        ClaimPages claim = new ClaimPages(trials, pages);
        routes.get("/trial/{trial}/claims", claim::list);
        routes.post("/trial/{trial}/claims", claim::add);
        Reports reports = new Reports(analyses);
        ResultPages result = new ResultPages(trials, pages, reports);
        routes.get("/trial/{trial}/findings", result::findings);
        routes.get("/trial/{trial}/report.html", result::report);
        routes.get("/trial/{trial}/chart/{name}", result::chart);
        routes.get("/trial/{trial}/file/{name}", result::file);
        routes.get("/trial/{trial}/file/charts/{name}", result::drawing);
        routes.get("/trial/{trial}/card", result::card);
        PlanPages plan = new PlanPages(trials, pages, settings.past());
        routes.get("/plan", plan::blank);
        routes.post("/plan", plan::make);
        routes.get("/plan/sheet.pdf", plan::sheet);
        routes.get("/trial/{trial}/plan", plan::show);
        routes.post("/trial/{trial}/plan", plan::add);
        routes.get("/trial/{trial}/sheet.pdf", plan::sheetOfTrial);
        ConvertPages convert = new ConvertPages(trials, pages);
        routes.get("/convert", convert::show);
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
     * @param typed what was sent and is not saved, by field
     */
    public record FailureView(String todo, Map<String, String> typed) {}

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
            case 413 -> Guard.tooLong();
            case 404, 405 -> Refusal.noSuchPage();
            default -> new Refusal(status, "This could not be understood", "Use the links and buttons of the pages.");
        };
    }

    private static void fail(Context context, Pages pages, int status, String happened, String todo) {
        pages.show(context.status(status), "failure", happened, new FailureView(todo, Guard.typed(context, status)));
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
        for (Connector connector : connectors()) {
            ((AbstractConnector) connector).setIdleTimeout(limits.idle().toMillis());
            ((AbstractConnector) connector).addBean(new SlowRequests(connector.getScheduler(), limits.request()));
        }
        return true;
    }

    /** Stops listening and ends what runs beside the requests. What was acknowledged is on disk. */
    public void stop() {
        javalin.stop();
        estimates.stop();
    }

    /** What it listens with, once it has started. */
    List<Connector> connectors() {
        return List.of(javalin.jettyServer().server().getConnectors());
    }

    int port() {
        return javalin.port();
    }

    /** {@return what is typed into the browser of this machine} */
    public String address() {
        return "http://127.0.0.1:" + port() + "/";
    }

    /** {@return what is typed into a phone's browser; none without LAN} */
    public List<String> networkAddresses() {
        return settings.lan() ? DoorPages.addresses(port()) : List.of();
    }

    /** {@return what a phone is asked for} */
    public String accessCode() {
        return code;
    }

    /** {@return a code for a phone's camera, drawn with block characters} */
    public String drawnInvitation() {
        return door.drawn(port());
    }
}
