package org.fairturn.web;

import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.web.Page.Fault;

/** Turns views into pages. */
final class Pages {
    private final TemplateEngine templates =
            TemplateEngine.createPrecompiled(null, ContentType.Html, null, "org.fairturn.web.template");
    private final Assets assets;
    private final Visitors visitors;
    private final boolean lan;

    Pages(Assets assets, Visitors visitors, boolean lan) {
        this.assets = assets;
        this.visitors = visitors;
        this.lan = lan;
    }

    /** A page outside any trial. */
    void show(Context context, String template, String title, Object view) {
        show(context, template, title, Optional.empty(), "", List.of(), view);
    }

    /** A page outside any trial that every page has a way to. */
    void showAt(Context context, String template, String title, String here, Object view) {
        show(context, template, title, Optional.empty(), here, List.of(), view);
    }

    /** A page of a trial. */
    void show(Context context, String template, String title, Page.Trial trial, String here, Object view) {
        show(context, template, title, Optional.of(trial), here, List.of(), view);
    }

    /** A page with something to mend on it, if there is any. */
    void show(
            Context context,
            String template,
            String title,
            Optional<Page.Trial> trial,
            String here,
            List<Fault> faults,
            Object view) {
        Visit visit = Visit.of(context);
        Page page = new Page(
                title,
                trial,
                here,
                visit == null ? "" : visit.token(),
                visit == null ? Optional.empty() : visitors.hear(visit.name()),
                faults,
                lan && visit != null && visit.here(),
                assets.path("style.css"),
                assets.path("app.js"),
                assets.path("htmx.js"));
        if (!faults.isEmpty()) {
            context.status(422);
        }
        StringOutput html = new StringOutput();
        templates.render(template + ".jte", Map.of("page", page, "view", view), html);
        context.html(html.toString());
    }

    /** Address of a style or script that only some pages need. */
    String asset(String name) {
        return assets.path(name);
    }

    /** A piece of a page, sent to a page that is open already. */
    void piece(Context context, String template, Object view) {
        StringOutput html = new StringOutput();
        templates.render(template + ".jte", Map.of("view", view), html);
        context.html(html.toString());
    }

    /** After something was done: on to a page that says so. */
    void next(Context context, String address, String message) {
        visitors.say(Visit.of(context).name(), message);
        context.redirect(address, io.javalin.http.HttpStatus.SEE_OTHER);
    }
}
