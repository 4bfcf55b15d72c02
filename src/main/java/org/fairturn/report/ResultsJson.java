package org.fairturn.report;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.util.DefaultIndenter;
import com.fasterxml.jackson.core.util.DefaultPrettyPrinter;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.fairturn.finding.Analysis;
import org.fairturn.finding.Asymmetry;
import org.fairturn.finding.CellEstimate;
import org.fairturn.finding.ClaimCheck;
import org.fairturn.finding.Complaint;
import org.fairturn.finding.Conversion;
import org.fairturn.finding.Difference;
import org.fairturn.finding.FairnessPoint;
import org.fairturn.finding.Finding;
import org.fairturn.finding.MachineEstimate;
import org.fairturn.finding.Part;
import org.fairturn.finding.Question;
import org.fairturn.finding.Robustness;
import org.fairturn.finding.SideBySide;
import org.fairturn.finding.StopEffect;
import org.fairturn.finding.Testers;
import org.fairturn.finding.Warning;
import org.fairturn.folder.DataCode;
import org.fairturn.folder.Problem;
import org.fairturn.trial.Assumption;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Cell;
import org.fairturn.trial.LearntScatter;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Trial;
import org.fairturn.trial.Turn;
import org.fairturn.trial.Tyre;
import org.fairturn.uncertainty.Estimate;
import org.fairturn.uncertainty.Interlaboratory;
import org.fairturn.uncertainty.RepeatabilityPosterior;
import org.fairturn.units.Length;

/** results.json, format 1.0: fields are added within a major format, never renamed or taken away. */
final class ResultsJson {
    static final String FORMAT = "1.0";
    /** A nanometre: finer than the quantiles are solved for, coarser than rounding differs between processors. */
    private static final int DECIMALS = 6;

    private static final long SCALE = 1_000_000;
    /** Up to here a double tells thousandths of a unit apart, so that only what lies close to a half needs its decimals looked at. */
    private static final double PLAIN = 1e12;

    private static final double NEARLY_HALF = 0.499;
    /** Characters of a usual trial's results. */
    private static final int USUAL = 1 << 16;

    private static final JsonFactory FACTORY = new JsonFactory();

    private final JsonGenerator json;
    private final double level;

    /** A writer of parts, its intervals at that level. */
    ResultsJson(JsonGenerator json, double level) {
        this.json = json;
        this.level = level;
    }

    /** The results of a trial. */
    static String write(Analysis analysis, List<Warning> warnings) {
        double level = analysis.trial().conditions().confidence();
        return document(
                true,
                json -> new ResultsJson(json, level)
                        .results(analysis, warnings, analysis.trial().folder()));
    }

    /**
     * The same in one line.
     *
     * @param path where the trial lies in its archive, with slashes; written where it says more than the folder's name
     */
    static String line(Analysis analysis, List<Warning> warnings, String path) {
        double level = analysis.trial().conditions().confidence();
        return document(false, json -> new ResultsJson(json, level).results(analysis, warnings, path));
    }

    /** Why a folder could not be analysed; row is 0 and column empty where none is meant. */
    static String errors(String folder, List<Problem> problems, List<Warning> warnings) {
        return document(json -> new ResultsJson(json, Double.NaN).writeErrors(folder, folder, problems, warnings));
    }

    /** The same in one line, as {@link #line}. */
    static String errorsLine(String folder, String path, List<Problem> problems, List<Warning> warnings) {
        return document(false, json -> new ResultsJson(json, Double.NaN).writeErrors(folder, path, problems, warnings));
    }

    /** A figure converted, a row for each quantity and turn. */
    static String conversion(Conversion conversion) {
        return document(json -> new ResultsJson(json, Conversion.LEVEL).converted(conversion));
    }

    private void converted(Conversion conversion) throws IOException {
        Conversion.Given given = conversion.given();
        json.writeStringField("machine", given.machine().id());
        json.writeStringField("drive", given.drive().word());
        json.writeObjectFieldStart("given");
        json.writeStringField("quantity", given.quantity().word());
        length("value", given.value().metres());
        length("standardUncertainty", given.uncertainty().metres());
        json.writeEndObject();
        number("confidence", level);
        json.writeArrayFieldStart("figures");
        for (Conversion.Row row : conversion.rows()) {
            json.writeStartObject();
            json.writeStringField("quantity", row.quantity().word());
            json.writeStringField("turn", row.turn().word());
            if (row.figure().isPresent()) {
                Estimate figure = row.figure().get();
                length("estimate", figure.value());
                length("standardUncertainty", figure.standardUncertainty());
                length("low", figure.low());
                length("high", figure.high());
            } else {
                json.writeNullField("estimate");
            }
            json.writeArrayFieldStart("missing");
            for (String missing : row.missing()) {
                json.writeString(missing);
            }
            json.writeEndArray();
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeStringField("sentence", conversion.sentence());
    }

    interface Content {
        void write(JsonGenerator json) throws IOException;
    }

    static String document(Content content) {
        return document(true, content);
    }

    private static String document(boolean indented, Content content) {
        StringWriter text = new StringWriter(USUAL);
        try (JsonGenerator json = FACTORY.createGenerator(text)) {
            if (indented) {
                json.setPrettyPrinter(new DefaultPrettyPrinter()
                        .withObjectIndenter(new DefaultIndenter("  ", "\n"))
                        .withArrayIndenter(new DefaultIndenter("  ", "\n")));
            }
            json.writeStartObject();
            json.writeStringField("format", FORMAT);
            content.write(json);
            json.writeEndObject();
        } catch (IOException e) {
            throw new UncheckedIOException("a StringWriter cannot fail", e);
        }
        return text.append('\n').toString();
    }

    private void writeErrors(String folder, String path, List<Problem> problems, List<Warning> warnings)
            throws IOException {
        json.writeObjectFieldStart("trial");
        folder(folder, path);
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
        writeWarnings(warnings);
    }

    private void folder(String folder, String path) throws IOException {
        json.writeStringField("folder", folder);
        if (!path.equals(folder)) { // two folders deeper down may have the same name
            json.writeStringField("path", path);
        }
    }

    void writeWarnings(List<Warning> warnings) throws IOException {
        json.writeArrayFieldStart("warnings");
        for (Warning warning : warnings) {
            json.writeStartObject();
            json.writeStringField("code", warning.code());
            json.writeStringField("where", warning.where());
            json.writeStringField("message", warning.message());
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private void results(Analysis analysis, List<Warning> warnings, String path) throws IOException {
        Trial trial = analysis.trial();
        json.writeObjectFieldStart("trial");
        json.writeStringField("title", trial.conditions().title());
        json.writeStringField("date", trial.conditions().date().toString());
        folder(trial.folder(), path);
        json.writeStringField("dataCode", DataCode.of(trial));
        json.writeEndObject();
        number("confidence", level);
        repeatability(analysis);
        json.writeArrayFieldStart("cells");
        for (CellEstimate cell : analysis.cells()) {
            cell(cell);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("differences");
        for (Difference difference : analysis.differences()) {
            difference(difference);
        }
        json.writeEndArray();
        json.writeArrayFieldStart("findings");
        for (Finding finding : analysis.findings()) {
            finding(finding, asymmetry(analysis, finding), analysis.claims(), analysis.complaints());
        }
        json.writeEndArray();
        stops(analysis);
        tyres(trial);
        if (analysis.sideBySide().isPresent()) {
            sideBySide(analysis.sideBySide().get());
        }
        if (analysis.testers().isPresent()) {
            testers(analysis.testers().get());
        }
        writeWarnings(warnings);
    }

    /** Pressures in kilopascals; what is not known is left out. */
    private void tyres(Trial trial) throws IOException {
        if (trial.machines().stream().allMatch(m -> m.tyres().stream().noneMatch(Tyre::known))) {
            return;
        }
        json.writeArrayFieldStart("tyres");
        for (Machine machine : trial.machines()) {
            for (Tyre tyre : machine.tyres().stream().filter(Tyre::known).toList()) {
                json.writeStartObject();
                json.writeStringField("machine", machine.id());
                json.writeStringField("wheel", tyre.wheel());
                json.writeStringField("size", tyre.size());
                if (tyre.specified().isPresent()) {
                    number("specified", tyre.specified().get().kilopascals());
                }
                if (tyre.found().isPresent()) {
                    number("found", tyre.found().get().kilopascals());
                }
                json.writeEndObject();
            }
        }
        json.writeEndArray();
    }

    private void stops(Analysis analysis) throws IOException {
        json.writeArrayFieldStart("stops");
        for (StopEffect effect : analysis.stops()) {
            json.writeStartObject();
            json.writeStringField("machine", effect.machine());
            json.writeStringField("stop", effect.stop().side().word());
            json.writeStringField("limits", effect.stop().limits().word());
            json.writeFieldName("touchesAxle");
            if (effect.stop().touchesAxle().isPresent()) {
                json.writeBoolean(effect.stop().touchesAxle().get());
            } else {
                json.writeNull();
            }
            if (effect.fromCircles().isPresent()) {
                json.writeObjectFieldStart("lockAngleFromCircles");
                json.writeStringField(
                        "drive", effect.fromCircles().get().drive().word());
                number(
                        "estimate",
                        Math.toDegrees(effect.fromCircles().get().angle().value()));
                number(
                        "standardUncertainty",
                        Math.toDegrees(effect.fromCircles().get().angle().standardUncertainty()));
                json.writeEndObject();
            }
            stopChange("found", effect.found());
            stopChange("set", effect.set());
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    /** Against the stop at its specification: lengths in millimetres, the angle in degrees. */
    private void stopChange(String name, Optional<StopEffect.Change> change) throws IOException {
        if (change.isEmpty()) {
            json.writeNullField(name);
            return;
        }
        json.writeObjectFieldStart(name);
        length("protrusion", change.get().deviation());
        number("lockAngle", Math.toDegrees(change.get().lock().value()));
        length("turnRadius", change.get().radius().value());
        length("turnRadiusStandardUncertainty", change.get().radius().standardUncertainty());
        if (change.get().diameter().isPresent()) {
            length("diameter", change.get().diameter().get().value());
            length("diameterStandardUncertainty", change.get().diameter().get().standardUncertainty());
        }
        json.writeEndObject();
    }

    private void sideBySide(SideBySide sideBySide) throws IOException {
        json.writeObjectFieldStart("sideBySide");
        json.writeArrayFieldStart("compared");
        for (SideBySide.Compared c : sideBySide.compared()) {
            json.writeStartObject();
            json.writeStringField("machine", c.machine().machine());
            json.writeStringField("other", c.other().machine());
            condition(c.machine());
            interval("difference", c.difference());
            if (c.apart().isPresent()) {
                interval("chassis", c.apart().get().chassis());
                interval("deckReach", c.apart().get().deckReach());
                interval("turnRadius", c.apart().get().turnRadius());
            }
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("ranking");
        for (SideBySide.Standing standing : sideBySide.ranking()) {
            json.writeStartObject();
            json.writeStringField("machine", standing.machine());
            interval("diameter", standing.diameter());
            json.writeArrayFieldStart("places");
            for (double place : standing.places()) {
                json.writeNumber(decimal(place));
            }
            json.writeEndArray();
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("fairness");
        for (FairnessPoint point : sideBySide.fairness()) {
            json.writeStartObject();
            json.writeStringField("point", point.name());
            json.writeStringField("status", STATUS.get(point.status()));
            json.writeStringField("detail", point.detail());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("headland");
        for (SideBySide.Headland headland : sideBySide.headland()) {
            json.writeStartObject();
            json.writeStringField("machine", headland.machine());
            json.writeStringField("drive", headland.drive().word());
            json.writeStringField("verdict", headland.verdict().word());
            json.writeStringField("turn", headland.tighter().map(Turn::word).orElse(null));
            interval("difference", headland.difference());
            json.writeEndObject();
        }
        json.writeEndArray();
        uncut(sideBySide);
        json.writeEndObject();
    }

    /** Areas in square metres, times in seconds. */
    private void uncut(SideBySide sideBySide) throws IOException {
        json.writeArrayFieldStart("uncut");
        for (SideBySide.Uncut uncut : sideBySide.uncut()) {
            json.writeStartObject();
            json.writeStringField("machine", uncut.cell().machine());
            condition(uncut.cell());
            json.writeObjectFieldStart("area");
            number("estimate", uncut.area().value());
            number("low", uncut.area().low());
            number("high", uncut.area().high());
            json.writeEndObject();
            if (uncut.mowing().isPresent()) {
                length("cuttingWidth", uncut.mowing().get().width());
                number("mowingTime", uncut.mowing().get().seconds());
            } else {
                json.writeNullField("cuttingWidth");
                json.writeNullField("mowingTime");
            }
            json.writeEndObject();
        }
        json.writeEndArray();
    }

    private void testers(Testers testers) throws IOException {
        json.writeObjectFieldStart("testers");
        orNull("repeatability", testers.precision().repeatability(), 1000);
        orNull("betweenMeasurers", testers.precision().betweenLaboratories(), 1000);
        orNull("reproducibility", testers.precision().reproducibility(), 1000);
        json.writeArrayFieldStart("scatter");
        for (Map.Entry<String, Interlaboratory.Scatter> k : testers.scatter().entrySet()) {
            json.writeStartObject();
            json.writeStringField("measurer", k.getKey());
            number("k", k.getValue().k());
            number("critical", k.getValue().critical());
            json.writeBooleanField("standsOut", k.getValue().standsOut());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeArrayFieldStart("measured");
        for (Testers.Level level : testers.levels()) {
            Interlaboratory measured = level.measured();
            for (int i = 0; i < measured.groups().size(); i++) {
                Interlaboratory.Group group = measured.groups().get(i);
                json.writeStartObject();
                json.writeStringField("circle", level.circle());
                json.writeStringField("measurer", group.label());
                json.writeNumberField("readings", group.n());
                length("mean", group.mean());
                orNull("standardDeviation", group.standardDeviation(), 1000);
                orNull("h", measured.h(i), 1);
                orNull("k", measured.k(i), 1);
                json.writeBooleanField("standsOutByH", measured.standsOutByH(i, Testers.ALPHA));
                json.writeBooleanField("standsOutByK", measured.standsOutByK(i, Testers.ALPHA));
                json.writeEndObject();
            }
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    void orNull(String name, OptionalDouble value, double times) throws IOException {
        if (value.isPresent()) {
            number(name, times * value.getAsDouble());
        } else {
            json.writeNullField(name);
        }
    }

    private static final Map<FairnessPoint.Status, String> STATUS = Map.of(
            FairnessPoint.Status.MET, "met",
            FairnessPoint.Status.NOT_MET, "notMet",
            FairnessPoint.Status.NOT_STATED, "notStated");

    private void repeatability(Analysis analysis) throws IOException {
        json.writeObjectFieldStart("repeatability");
        if (analysis.repeatability().isPresent()) {
            spreads(analysis.repeatability().get());
        } else {
            json.writeNullField("circleToCircle");
            json.writeNullField("reading");
        }
        Assumption assumption = analysis.trial().conditions().assumption();
        json.writeStringField(
                "source",
                "all machines of the trial together, with the assumed repeatability as prior"
                        + (assumption.sentences().isEmpty() ? "" : ". " + String.join(" ", assumption.sentences())));
        if (!assumption.sentences().isEmpty()) {
            json.writeObjectFieldStart("assumed");
            assumed(
                    "circleToCircle",
                    assumption.circleStated(),
                    assumption.circle(),
                    analysis.trial().conditions().assumedCircleRepeatability());
            assumed(
                    "reading",
                    assumption.readingStated(),
                    assumption.reading(),
                    analysis.trial().conditions().assumedReadingRepeatability());
            json.writeEndObject();
        }
        json.writeArrayFieldStart("machines");
        for (MachineEstimate machine : analysis.machines()) {
            json.writeStartObject();
            json.writeStringField("machine", machine.machine().id());
            spreads(machine.posterior());
            json.writeNumberField("circleDegreesOfFreedom", machine.anova().degreesBetween());
            json.writeNumberField("readingDegreesOfFreedom", machine.anova().degreesWithin());
            json.writeEndObject();
        }
        json.writeEndArray();
        json.writeEndObject();
    }

    /** A prior: half of t with its scale, mixed with a log-normal where past trials taught one. */
    private void assumed(String name, boolean stated, Optional<LearntScatter> learnt, Length scale) throws IOException {
        json.writeObjectFieldStart(name);
        json.writeStringField("from", learnt.isPresent() ? "archive" : stated ? "trial" : "usual");
        length("scale", scale.metres());
        if (learnt.isPresent()) {
            json.writeNumberField("trials", learnt.get().trials());
            length("median", learnt.get().median().metres());
            number("logSpread", learnt.get().logSpread());
            number("usualShare", learnt.get().usualShare());
            length("below95", learnt.get().below95().metres());
        }
        json.writeEndObject();
    }

    private void spreads(RepeatabilityPosterior posterior) throws IOException {
        interval("circleToCircle", posterior.circleToCircle(level));
        interval("reading", posterior.reading(level));
    }

    private void cell(CellEstimate cell) throws IOException {
        json.writeStartObject();
        json.writeStringField("machine", cell.cell().machine());
        condition(cell.cell());
        length("diameter", cell.diameter().value());
        length("standardUncertainty", cell.diameter().standardUncertainty());
        length("low", cell.diameter().low());
        length("high", cell.diameter().high());
        json.writeNumberField("circles", cell.circles().size());
        json.writeNumberField("readings", cell.readings());
        if (cell.turnRadius().isPresent()) {
            interval("turnRadius", cell.turnRadius().get());
        } else {
            json.writeNullField("turnRadius");
        }
        json.writeBooleanField("restsOnAssumption", cell.restsOnAssumption());
        json.writeEndObject();
    }

    private void difference(Difference difference) throws IOException {
        json.writeStartObject();
        json.writeStringField("machine", difference.from().machine());
        json.writeObjectFieldStart("from");
        condition(difference.from());
        json.writeEndObject();
        json.writeObjectFieldStart("to");
        condition(difference.to());
        json.writeEndObject();
        length("estimate", difference.estimate().value());
        length("standardUncertainty", difference.estimate().standardUncertainty());
        length("low", difference.estimate().low());
        length("high", difference.estimate().high());
        if (difference.dataOnly().isPresent()) {
            json.writeObjectFieldStart("dataOnly");
            length("low", difference.dataOnly().get().estimate().low());
            length("high", difference.dataOnly().get().estimate().high());
            number("degreesOfFreedom", difference.dataOnly().get().degreesOfFreedom());
            json.writeEndObject();
        } else {
            json.writeNullField("dataOnly");
        }
        json.writeBooleanField("restsOnAssumption", difference.restsOnAssumption());
        json.writeEndObject();
    }

    /** The asymmetry behind a finding, for left against right. */
    private static Optional<Asymmetry> asymmetry(Analysis analysis, Finding finding) {
        return analysis.asymmetries().stream()
                .filter(a -> a.finding().equals(finding))
                .findFirst();
    }

    void finding(Finding finding, Optional<Asymmetry> asymmetry, List<ClaimCheck> claims, List<Complaint> complaints)
            throws IOException {
        json.writeStartObject();
        json.writeStringField("question", finding.question().word());
        json.writeObjectFieldStart("subject");
        for (Map.Entry<String, String> entry : finding.subject().entrySet()) {
            json.writeStringField(entry.getKey(), entry.getValue());
        }
        json.writeEndObject();
        json.writeStringField("verdict", finding.verdict().word());
        json.writeStringField(
                "familyVerdict", finding.holdsInFamily() ? finding.verdict().word() : "cannotTell");
        if (finding.estimate().isPresent()) {
            Estimate q = finding.estimate().get();
            number("probability", finding.verdict().probability());
            length("estimate", q.value());
            length("low", q.low());
            length("high", q.high());
        } else {
            json.writeNullField("probability");
            json.writeNullField("estimate");
            json.writeNullField("low");
            json.writeNullField("high");
        }
        length("margin", finding.margin());
        json.writeArrayFieldStart("parts");
        for (Part part : finding.parts()) {
            json.writeStartObject();
            json.writeStringField("name", part.name());
            length("estimate", part.estimate());
            length("standardUncertainty", part.standardUncertainty());
            json.writeEndObject();
        }
        json.writeEndArray();
        if (asymmetry.flatMap(Asymmetry::ruleOfThumb).isPresent()) {
            length("ruleOfThumb", asymmetry.flatMap(Asymmetry::ruleOfThumb).get());
        }
        if (asymmetry.flatMap(Asymmetry::geometry).isPresent()) {
            Asymmetry.Geometry geometry = asymmetry.flatMap(Asymmetry::geometry).get();
            json.writeObjectFieldStart("deckOffsetThatExplainsAll");
            length("estimate", geometry.equalisingOffset());
            length("standardUncertainty", geometry.equalisingUncertainty());
            json.writeEndObject();
        }
        claim(claims, finding);
        for (Complaint complaint : complaints) {
            if (finding.question() == Question.COMPLAINT && finding.subject().equals(complaint.subject())) {
                complaint(complaint);
            }
        }
        if (finding.standsUpTo().isPresent()) {
            length("standsUpTo", finding.standsUpTo().getAsDouble());
        } else {
            json.writeNullField("standsUpTo");
        }
        json.writeBooleanField("restsOnAssumption", finding.restsOnAssumption());
        robustness(finding.robustness());
        json.writeStringField("sentence", finding.sentence());
        json.writeStringField("next", finding.next());
        json.writeEndObject();
    }

    /** For the reading of a claim: how the two results agree, and how likely it is that the claim means this. */
    private void claim(List<ClaimCheck> claims, Finding finding) throws IOException {
        for (ClaimCheck check : claims) {
            for (ClaimCheck.Reading reading : check.readings()) {
                if (finding.question() == Question.CLAIM
                        && finding.subject().equals(reading.subject())
                        && reading.comparison().isPresent()) {
                    number("zeta", reading.comparison().get().zeta());
                    number("en", reading.comparison().get().en());
                    number("readingProbability", reading.probability());
                    number("noneOfThese", check.noneOfThese());
                    json.writeArrayFieldStart("wouldDiffer");
                    for (String difference : reading.wouldDiffer()) {
                        json.writeString(difference);
                    }
                    json.writeEndArray();
                }
            }
        }
    }

    /** What may be behind a complaint, the likeliest first, and what to look at next. */
    private void complaint(Complaint complaint) throws IOException {
        json.writeArrayFieldStart("causes");
        for (Complaint.Cause cause : complaint.causes()) {
            json.writeStartObject();
            json.writeStringField("cause", cause.kind().word());
            json.writeStringField("name", cause.name());
            number("prior", cause.prior());
            number("probability", cause.probability());
            json.writeArrayFieldStart("effects");
            for (int k = 0; k < cause.effects().size(); k++) {
                json.writeStartObject();
                condition(complaint.compared().get(k).cell());
                length("effect", cause.effects().get(k));
                json.writeEndObject();
            }
            json.writeEndArray();
            if (cause.size().isPresent()) {
                Complaint.Size size = cause.size().get();
                json.writeObjectFieldStart("size");
                orNull("value", known(size.value()), 1);
                orNull("standardUncertainty", known(size.standardUncertainty()), 1);
                json.writeStringField("unit", size.unit());
                json.writeStringField("words", size.words());
                json.writeEndObject();
            } else {
                json.writeNullField("size");
            }
            strings("for", cause.speaksFor());
            strings("against", cause.against());
            json.writeEndObject();
        }
        json.writeEndArray();
        if (complaint.checks().isEmpty()) {
            json.writeNullField("nextCheck");
        } else {
            json.writeFieldName("nextCheck");
            check(complaint.checks().get(0));
        }
        json.writeArrayFieldStart("otherChecks");
        for (Complaint.Check check : complaint.checks().stream().skip(1).toList()) {
            check(check);
        }
        json.writeEndArray();
    }

    private static OptionalDouble known(double value) {
        return Double.isNaN(value) ? OptionalDouble.empty() : OptionalDouble.of(value);
    }

    private void check(Complaint.Check check) throws IOException {
        json.writeStartObject();
        json.writeStringField("check", check.name());
        json.writeStringField("how", check.how());
        number("expectedInformationBits", check.bits());
        json.writeEndObject();
    }

    private void strings(String name, List<String> values) throws IOException {
        json.writeArrayFieldStart(name);
        for (String value : values) {
            json.writeString(value);
        }
        json.writeEndArray();
    }

    private void robustness(Optional<Robustness> found) throws IOException {
        if (found.isEmpty()) {
            json.writeNullField("robustness");
            return;
        }
        Robustness robustness = found.get();
        json.writeObjectFieldStart("robustness");
        json.writeBooleanField("standsWithoutAnyCircle", robustness.standsWithoutAnyCircle());
        json.writeBooleanField("standsWithoutAnyReading", robustness.standsWithoutAnyReading());
        json.writeArrayFieldStart("fallsWithout");
        for (String what : robustness.fallsWithout()) {
            json.writeString(what);
        }
        json.writeEndArray();
        json.writeBooleanField("standsWithHalvedRepeatability", robustness.standsWithHalvedRepeatability());
        json.writeBooleanField("standsWithDoubledRepeatability", robustness.standsWithDoubledRepeatability());
        json.writeBooleanField("standsWithDeckAtEitherEnd", robustness.standsWithDeckAtEitherEnd());
        json.writeStringField("sentence", robustness.sentence());
        json.writeEndObject();
    }

    void condition(Cell cell) throws IOException {
        json.writeStringField("turn", cell.turn().word());
        json.writeStringField("drive", cell.drive().word());
        if (cell.brakes() == Brakes.USED) {
            json.writeStringField("brakes", cell.brakes().word());
        }
    }

    void interval(String name, Estimate estimate) throws IOException {
        json.writeObjectFieldStart(name);
        length("estimate", estimate.value());
        length("low", estimate.low());
        length("high", estimate.high());
        json.writeEndObject();
    }

    void length(String name, double metres) throws IOException {
        number(name, 1000 * metres);
    }

    void number(String name, double value) throws IOException {
        json.writeFieldName(name);
        json.writeNumber(decimal(value));
    }

    /** The number to a nanometre, without zeros at its end. Half a unit goes to the even side of the number as it is written. */
    static String decimal(double value) {
        double scaled = value * SCALE;
        double fraction = Math.abs(scaled - Math.rint(scaled));
        if (!(Math.abs(scaled) < PLAIN) || fraction > NEARLY_HALF) {
            return BigDecimal.valueOf(value)
                    .setScale(DECIMALS, RoundingMode.HALF_EVEN)
                    .stripTrailingZeros()
                    .toPlainString();
        }
        long units = Math.abs((long) Math.rint(scaled)); // many times faster, and most numbers are of this kind
        StringBuilder text = new StringBuilder();
        text.append(scaled < 0 && units > 0 ? "-" : "").append(units / SCALE);
        long rest = units % SCALE;
        if (rest > 0) {
            text.append('.');
            for (long place = SCALE / 10; rest > 0; place /= 10) {
                text.append((char) ('0' + rest / place));
                rest %= place;
            }
        }
        return text.toString();
    }
}
