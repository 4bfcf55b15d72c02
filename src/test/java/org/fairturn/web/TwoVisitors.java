package org.fairturn.web;

import static org.fairturn.Fuzzing.promise;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Two who send at the same time, each over a connection of its own. Each has a mark that is a length, too: it stands in sound
 * requests that come first, whose answers tell it back, and in heads that come after, which nobody may ever see again.
 */
final class TwoVisitors {
    /** Between what the one sends and what the other sends. */
    static final String BETWEEN = "\r\n----- meanwhile -----\r\n";

    /** Long heads of {@link RequestMaker} are filled with it, and stay as long. */
    private static final Pattern MARK = Pattern.compile("1\\.[0-9]{8}");

    private static final Pattern ASKED = Pattern.compile(
            "GET /trial/demo/length\\?text=(1\\.[0-9]{9}m) HTTP/1\\.1\r\n(?:[A-Za-z-]+: [\\x20-\\x7e]+\r\n)+\r\n");

    private final RequestTargets one;
    private final RequestTargets other;

    TwoVisitors(RequestTargets one, RequestTargets other) {
        this.one = one;
        this.other = other;
    }

    /** A sound request whose answer tells back the mark with a figure behind it. */
    static String ask(String mark, int figure, List<String> heads) {
        return "GET /trial/demo/length?text=" + mark + figure + "m HTTP/1.1\r\n" + String.join("\r\n", heads)
                + "\r\nX-Mark: " + mark + "\r\n\r\n";
    }

    /** Each answer belongs to its own request, and nothing that one of them sent comes to the other. */
    boolean connections(byte[] input) throws IOException {
        String all = new String(input, StandardCharsets.ISO_8859_1);
        int between = all.indexOf(BETWEEN);
        String first = one.sent(between < 0 ? all : all.substring(0, between));
        String second = other.sent(between < 0 ? "" : all.substring(between + BETWEEN.length()));
        try {
            CompletableFuture<RequestTargets.Heard> meanwhile =
                    CompletableFuture.supplyAsync(() -> other.heard(second));
            RequestTargets.Heard here = one.heard(first);
            RequestTargets.Heard there = joined(meanwhile);
            boolean understoodHere = own(first, here, marks(second));
            boolean understoodThere = own(second, there, marks(first));
            return understoodHere && understoodThere;
        } finally {
            one.asBefore();
        }
    }

    private static RequestTargets.Heard joined(CompletableFuture<RequestTargets.Heard> meanwhile) {
        try {
            return meanwhile.join();
        } catch (CompletionException failed) {
            throw new AssertionError(failed.getCause());
        }
    }

    private static Set<String> marks(String sent) {
        return MARK.matcher(sent).results().map(found -> found.group()).collect(Collectors.toSet());
    }

    private static boolean own(String sent, RequestTargets.Heard heard, Set<String> foreign) {
        foreign.removeAll(marks(sent));
        promise(foreign.stream().noneMatch(heard.bytes()::contains), "nothing of anybody else: " + heard.bytes());
        List<Answer> answers = heard.answers();
        List<String> asked = asked(sent);
        promise(!heard.whole() || answers.size() >= asked.size(), "an answer to each request: " + answers.size());
        for (int i = 0; i < answers.size(); i++) {
            Answer answer = answers.get(i);
            RequestTargets.answer(answer, sent);
            promise(foreign.stream().noneMatch(answer.body()::contains), "nothing of anybody else, packed: " + answer);
            boolean told = i >= asked.size() || answer.body().startsWith("= " + asked.get(i) + " (");
            promise(told, "what was asked for: " + answer);
        }
        return answers.stream().anyMatch(answer -> answer.status() < 400);
    }

    /** The lengths of the sound requests before anything else. */
    private static List<String> asked(String sent) {
        List<String> asked = new ArrayList<>();
        Matcher request = ASKED.matcher(sent);
        for (int at = 0; request.region(at, sent.length()).lookingAt(); at = request.end()) {
            asked.add(request.group(1));
        }
        return asked;
    }
}
