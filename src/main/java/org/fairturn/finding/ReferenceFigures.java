package org.fairturn.finding;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;
import java.util.stream.DoubleStream;
import org.fairturn.geometry.Deck;
import org.fairturn.trial.Cell;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Machine;
import org.fairturn.trial.Reference;
import org.fairturn.trial.Turn;
import org.fairturn.uncertainty.CauseRanking;

/**
 * The uncut diameters a reference makes of the cells of a machine.
 *
 * <p>Figures are converted with the deck where the manual puts it, where the folder says so. Of a turn the reference leaves out
 * it is worked out from the other turn in the same drive: the same turn radius, less what the designed lock angles make
 * different, under the same deck.
 */
final class ReferenceFigures {
    /**
     * Standard uncertainty (m) of a turn worked out from the other, besides the deck's: that both are designed alike. Our own
     * choice.
     */
    static final double WORKED_OUT = 0.025;

    private static final double STEP = 1e-3;

    /**
     * The reference in one cell.
     *
     * @param slope dD per metre of the figure it comes from
     * @param circleSlope dD per metre of uncut diameter in the turn the figure speaks of
     */
    record Figure(
            Cell cell,
            double diameter,
            double slope,
            double circleSlope,
            Reference row,
            boolean workedOut,
            List<Contribution> contributions) {}

    private final List<Reference> rows;
    private final Machine machine;

    /** The figures of rows that belong together, for a machine whose deck is where the manual puts it. */
    ReferenceFigures(List<Reference> rows, Machine machine) {
        this.rows = rows;
        this.machine = machine;
    }

    /** The same figures, left and right exchanged. */
    ReferenceFigures withTurnsExchanged() {
        return new ReferenceFigures(
                rows.stream().map(Reference::withTurnsExchanged).toList(), machine);
    }

    /** The same figures taken for another quantity, each times a factor. */
    ReferenceFigures takenFor(Claim.Quantity quantity, double factor) {
        return new ReferenceFigures(
                rows.stream().map(r -> takenFor(r, quantity, factor)).toList(), machine);
    }

    private static Reference takenFor(Reference r, Claim.Quantity quantity, double factor) {
        return new Reference(
                r.machine(),
                r.knownGood(),
                r.value().map(v -> v.times(factor)),
                quantity,
                r.turn(),
                r.drive(),
                r.brakes(),
                r.uncertainty().map(u -> u.times(factor)),
                r.circlesBehindIt(),
                r.source(),
                r.remark());
    }

    /** What the figures lack to be uncut diameters, in words. */
    List<String> missing() {
        return rows.stream()
                .flatMap(r -> ClaimConversion.missing(r.quantity(), machine).stream())
                .distinct()
                .toList();
    }

    /** The quantity all figures are; empty where they are not alike. */
    Optional<Claim.Quantity> quantity() {
        List<Claim.Quantity> all =
                rows.stream().map(Reference::quantity).distinct().toList();
        return all.size() == 1 ? Optional.of(all.get(0)) : Optional.empty();
    }

    /** The reference in a cell; empty where it says nothing of it, or nothing that can be converted. */
    Optional<Figure> of(Cell cell) {
        return rows.stream().anyMatch(r -> r.covers(cell.turn(), cell.drive(), cell.brakes()))
                ? said(cell)
                : workedOut(cell);
    }

    private Optional<Figure> said(Cell cell) {
        return rows.stream()
                .filter(r -> r.covers(cell.turn(), cell.drive(), cell.brakes()))
                .findFirst()
                .flatMap(row -> ClaimConversion.of(row.value().orElseThrow().metres(), row.quantity(), machine, cell)
                        .map(c -> new Figure(cell, c.diameter(), c.slope(), 1, row, false, c.contributions())));
    }

    private Optional<Figure> workedOut(Cell cell) {
        Turn turn = cell.turn();
        Optional<Figure> other = said(new Cell(cell.machine(), turn.other(), cell.drive(), cell.brakes()));
        Optional<DeckModel> model = DeckModel.of(machine, cell.drive());
        if (other.isEmpty() || model.isEmpty()) {
            return Optional.empty();
        }
        double d = other.get().diameter();
        Deck deck = model.get().deck();
        OptionalDouble here = across(d, deck, turn);
        OptionalDouble up = across(d + STEP, deck, turn);
        OptionalDouble down = across(d - STEP, deck, turn);
        if (here.isEmpty() || up.isEmpty() || down.isEmpty()) {
            return Optional.empty();
        }
        double slope = (up.getAsDouble() - down.getAsDouble()) / (2 * STEP);
        List<Contribution> contributions = new ArrayList<>(model.get().contributions(moved -> {
            OptionalDouble there = converted(other.get(), moved);
            return there.isPresent() ? across(there.getAsDouble(), moved, turn) : there;
        }));
        List<String> ofTheDeck = contributions.stream().map(Contribution::name).toList();
        other.get().contributions().stream()
                .filter(c -> !ofTheDeck.contains(c.name()))
                .map(c -> c.withEffect(slope * c.effect()))
                .forEach(contributions::add);
        return Optional.of(new Figure(
                cell,
                here.getAsDouble(),
                slope * other.get().slope(),
                slope,
                other.get().row(),
                true,
                contributions));
    }

    private OptionalDouble converted(Figure figure, Deck deck) {
        return ClaimConversion.diameter(
                figure.row().value().orElseThrow().metres(), figure.row().quantity(), machine, deck, figure.cell());
    }

    /** D of a turn from that of the other. */
    private OptionalDouble across(double other, Deck deck, Turn turn) {
        OptionalDouble radius = deck.turnRadius(other, turn.other().sign());
        if (radius.isEmpty()) {
            return radius;
        }
        double d = deck.uncutDiameter(radius.getAsDouble() + designed(turn), turn.sign());
        return d > 0 ? OptionalDouble.of(d) : OptionalDouble.empty();
    }

    /** By how much the designed lock angles make the turn radius larger than that of the other turn (m). */
    private double designed(Turn turn) {
        return DeckModel.designedRadius(machine, turn)
                .flatMap(r -> DeckModel.designedRadius(machine, turn.other()).map(other -> r - other))
                .orElse(0.0);
    }

    /**
     * What the figures may be off by, each influence on all cells at once.
     *
     * @param tapeAndEye standard uncertainty of another tape and eye (m), for figures that state none
     */
    static List<CauseRanking.Influence> influences(List<Figure> figures, double tapeAndEye) {
        List<CauseRanking.Influence> all = new ArrayList<>();
        for (Reference row : figures.stream().map(Figure::row).distinct().toList()) {
            all.add(row.uncertainty()
                    .map(u -> new CauseRanking.Influence(
                            u.metres() * u.metres(),
                            0,
                            loadings(figures, f -> f.row().equals(row) ? f.slope() : 0)))
                    // circles scatter in uncut diameters, whatever the figure is of
                    .orElseGet(() -> new CauseRanking.Influence(
                            0,
                            1.0 / row.circlesBehindIt().orElse(1),
                            loadings(figures, f -> f.row().equals(row) ? f.circleSlope() : 0))));
        }
        all.add(new CauseRanking.Influence(
                tapeAndEye * tapeAndEye,
                0,
                loadings(figures, f -> f.row().uncertainty().isEmpty() ? f.circleSlope() : 0)));
        Map<String, double[]> dimensions = new LinkedHashMap<>();
        for (int k = 0; k < figures.size(); k++) {
            for (Contribution c : figures.get(k).contributions()) {
                String drive = figures.get(k).cell().drive().word();
                String name = c.name().equals("turn centre shift") ? c.name() + drive : c.name();
                dimensions.computeIfAbsent(name, n -> new double[figures.size()])[k] = c.effect();
            }
        }
        dimensions
                .values()
                .forEach(effects -> all.add(new CauseRanking.Influence(
                        1, 0, DoubleStream.of(effects).boxed().toList())));
        for (Turn turn : Turn.values()) {
            all.add(new CauseRanking.Influence(
                    WORKED_OUT * WORKED_OUT,
                    0,
                    loadings(figures, f -> f.workedOut() && f.cell().turn() == turn ? 1 : 0)));
        }
        return all.stream()
                .filter(i -> i.loadings().stream().anyMatch(a -> a != 0))
                .toList();
    }

    private static List<Double> loadings(List<Figure> figures, ToDoubleFunction<Figure> loading) {
        return figures.stream().mapToDouble(loading).boxed().toList();
    }
}
