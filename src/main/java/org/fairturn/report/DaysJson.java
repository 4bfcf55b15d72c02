package org.fairturn.report;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.fairturn.finding.Days;
import org.fairturn.finding.Finding;
import org.fairturn.finding.Testers;
import org.fairturn.finding.Warning;
import org.fairturn.folder.DataCode;
import org.fairturn.uncertainty.Interlaboratory;

/** results.json of several days, in the format of {@link ResultsJson}. */
final class DaysJson {
    private final JsonGenerator json;
    private final ResultsJson parts;

    private DaysJson(JsonGenerator json, double level) {
        this.json = json;
        this.parts = new ResultsJson(json, level);
    }

    static String write(Days days, List<Warning> warnings) {
        return ResultsJson.document(json -> new DaysJson(json, days.confidence()).results(days, warnings));
    }

    private void results(Days days, List<Warning> warnings) throws IOException {
        json.writeArrayFieldStart("days");
        for (Days.Day day : days.days()) {
            json.writeStartObject();
            json.writeStringField("day", day.label());
            json.writeStringField("title", day.trial().conditions().title());
            json.writeStringField("date", day.trial().conditions().date().toString());
            json.writeStringField("folder", day.trial().folder());
            json.writeStringField("dataCode", DataCode.of(day.trial()));
            json.writeEndObject();
        }
        json.writeEndArray();
        parts.number("confidence", days.confidence());
        json.writeArrayFieldStart("machines");
        for (Days.OverDays machine : days.machines()) {
            machine(machine);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("findings");
        for (Finding finding : days.findings()) {
            parts.finding(finding, Optional.empty(), List.of(), List.of());
        }
        json.writeEndArray();
        parts.writeWarnings(warnings);
    }

    private void machine(Days.OverDays machine) throws IOException {
        json.writeStartObject();
        json.writeStringField("machine", machine.machine());
        if (machine.known().isPresent()) {
            Interlaboratory.Known known = machine.known().get();
            parts.interval("repeatability", known.repeatability());
            parts.number("repeatabilityDegreesOfFreedom", known.repeatabilityDegrees());
            parts.interval("reproducibility", known.reproducibility());
            parts.number("betweenDaysDegreesOfFreedom", known.betweenDegrees());
        } else {
            json.writeNullField("repeatability");
            json.writeNullField("reproducibility");
        }
        parts.orNull("betweenDays", machine.precision().betweenLaboratories(), 1000);
        parts.length("singleDay", machine.singleDay());
        json.writeBooleanField("singleDayRestsOnAssumption", machine.restsOnAssumption());
        json.writeStringField("sentence", machine.summary());
        json.writeArrayFieldStart("scatter");
        for (Map.Entry<String, Interlaboratory.Scatter> k : machine.scatter().entrySet()) {
            json.writeStartObject();
            json.writeStringField("day", k.getKey());
            parts.number("k", k.getValue().k());
            parts.number("critical", k.getValue().critical());
            json.writeBooleanField("standsOut", k.getValue().standsOut());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("measured");
        for (Days.Level level : machine.levels()) {
            level(level);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("againstTheOthers");
        for (Days.Against against : machine.against()) {
            for (Days.InCell in : against.cells()) {
                json.writeStartObject();
                json.writeStringField("day", against.day());
                parts.condition(in.cell());
                parts.interval("difference", in.difference());
                json.writeEndObject();
            }
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    private void level(Days.Level level) throws IOException {
        Interlaboratory measured = level.measured();
        json.writeStartObject();
        parts.condition(level.cell());
        json.writeArrayFieldStart("days");
        for (int i = 0; i < measured.groups().size(); i++) {
            Interlaboratory.Group group = measured.groups().get(i);
            json.writeStartObject();
            json.writeStringField("day", group.label());
            json.writeNumberField("circles", group.n());
            parts.length("mean", group.mean());
            parts.orNull("standardDeviation", group.standardDeviation(), 1000);
            parts.orNull("h", measured.h(i), 1);
            parts.orNull("k", measured.k(i), 1);
            json.writeBooleanField("standsOutByH", measured.standsOutByH(i, Testers.ALPHA));
            json.writeBooleanField("standsOutByK", measured.standsOutByK(i, Testers.ALPHA));
            json.writeEndObject();
        }
        json.writeEndArray();
        pointed("cochran", measured.cochran());
        pointed("grubbs", measured.grubbs());
        json.writeEndObject();
    }

    private void pointed(String name, Optional<Interlaboratory.Pointed> pointed) throws IOException {
        if (pointed.isEmpty()) {
            json.writeNullField(name);
            return;
        }
        json.writeObjectFieldStart(name);
        json.writeStringField("day", pointed.get().label());
        parts.number("statistic", pointed.get().statistic());
        parts.number("critical5", pointed.get().critical5());
        parts.number("critical1", pointed.get().critical1());
        json.writeEndObject();
    }
}
