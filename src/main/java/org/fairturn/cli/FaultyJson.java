package org.fairturn.cli;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.List;
import org.fairturn.finding.Warning;
import org.fairturn.folder.Problem;

/** What is wrong with a trial folder, for programs. */
final class FaultyJson {
    private FaultyJson() {}

    /**
     * {@code {"format", "trial": {"folder"}, "errors": [{"file", "row", "column", "message"}], "warnings": [{"code", "where",
     * "message"}]}}; row is 0 and column empty where none is meant.
     */
    static String of(String folder, List<Problem> problems, List<Warning> warnings) {
        StringWriter text = new StringWriter();
        try (JsonGenerator json = new JsonFactory().createGenerator(text).useDefaultPrettyPrinter()) {
            json.writeStartObject();
            json.writeStringField("format", "1.0");
            json.writeObjectFieldStart("trial");
            json.writeStringField("folder", folder);
            json.writeEndObject();
            json.writeArrayFieldStart("errors");
            for (Problem problem : problems) {
                json.writeStartObject();
                json.writeStringField("file", problem.file());
                json.writeNumberField("row", problem.row());
                json.writeStringField("column", problem.column());
                json.writeStringField("message", problem.message());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeArrayFieldStart("warnings");
            for (Warning warning : warnings) {
                json.writeStartObject();
                json.writeStringField("code", warning.code());
                json.writeStringField("where", warning.where());
                json.writeStringField("message", warning.message());
                json.writeEndObject();
            }
            json.writeEndArray();
            json.writeEndObject();
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible); // memory does not fail to be written to
        }
        return text.toString();
    }
}
