package org.fairturn.web;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** What the fields of a page would send. */
final class Fields {
    private static final Pattern INPUT = Pattern.compile("<input ([^>]*)>");
    private static final Pattern SELECT =
            Pattern.compile("<select [^>]*name=\"([^\"]*)\"[^>]*>(.*?)</select>", Pattern.DOTALL);
    private static final Pattern CHOSEN = Pattern.compile("<option value=\"([^\"]*)\" selected>");

    private Fields() {}

    static Map<String, String> of(String page) {
        Map<String, String> fields = new LinkedHashMap<>();
        Matcher input = INPUT.matcher(page);
        while (input.find()) {
            if (!input.group(1).contains("type=\"checkbox\"")) {
                fields.put(attribute(input.group(1), "name"), attribute(input.group(1), "value"));
            }
        }
        Matcher select = SELECT.matcher(page);
        while (select.find()) {
            Matcher chosen = CHOSEN.matcher(select.group(2));
            fields.put(text(select.group(1)), chosen.find() ? text(chosen.group(1)) : "");
        }
        return fields;
    }

    private static String attribute(String tag, String name) {
        Matcher value = Pattern.compile("(?<![a-z-])" + name + "=\"([^\"]*)\"").matcher(tag);
        return value.find() ? text(value.group(1)) : "";
    }

    private static String text(String html) {
        return html.replace("&#34;", "\"")
                .replace("&#39;", "'")
                .replace("&lt;", "<")
                .replace("&amp;", "&");
    }
}
