package org.fairturn;

import java.util.Set;
import java.util.TreeSet;

/** The elements of a page with their attributes' names: what a text in it must not add to. */
public final class Skeleton {
    private final String page;
    private final Set<String> elements = new TreeSet<>();
    private int at;

    private Skeleton(String page) {
        this.page = page;
    }

    /** Such as {@code script[defer, src]}, each once; what a style or script holds is no element. */
    public static Set<String> of(String page) {
        Skeleton skeleton = new Skeleton(page);
        skeleton.read();
        return skeleton.elements;
    }

    private void read() {
        while (at < page.length()) {
            if (page.startsWith("<!--", at)) {
                int end = page.indexOf("-->", at + 4);
                at = end < 0 ? page.length() : end + 3;
            } else if (page.charAt(at) == '<' && at + 1 < page.length() && Character.isLetter(page.charAt(at + 1))) {
                at++;
                String name = element();
                if (name.equals("style") || name.equals("script")) {
                    int end = page.indexOf("</" + name, at);
                    elements.add(name + " holding "
                            + page.substring(at, end < 0 ? page.length() : end)
                                    .strip()
                                    .hashCode());
                    at = end < 0 ? page.length() : end;
                }
            } else {
                at++;
            }
        }
    }

    private String element() {
        String name = word(" \t\r\n/>");
        Set<String> attributes = new TreeSet<>();
        while (at < page.length() && page.charAt(at) != '>') {
            if (" \t\r\n/".indexOf(page.charAt(at)) >= 0) {
                at++;
                continue;
            }
            attributes.add(word(" \t\r\n/>="));
            if (at < page.length() && page.charAt(at) == '=') {
                at++;
                value();
            }
        }
        elements.add(name + attributes);
        return name;
    }

    private void value() {
        char quote = page.charAt(at);
        if (quote == '"' || quote == '\'') {
            int end = page.indexOf(quote, at + 1);
            at = end < 0 ? page.length() : end + 1;
        } else {
            word(" \t\r\n>");
        }
    }

    private String word(String ends) {
        int from = at;
        while (at < page.length() && ends.indexOf(page.charAt(at)) < 0) {
            at++;
        }
        return page.substring(from, at).toLowerCase(java.util.Locale.ROOT);
    }
}
