package org.fairturn.folder;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.fairturn.trial.Brakes;
import org.fairturn.trial.Claim;
import org.fairturn.trial.Drive;
import org.fairturn.trial.Turn;

/** Reads claims.csv. */
final class ClaimsReader {
    private static final Entry<Claim.Quantity> QUANTITY = Entry.quantity();
    private static final Entry<Optional<Turn>> TURN = Entry.wordOrUnstated(Turn.values(), Turn::word);
    private static final Entry<Optional<Drive>> DRIVE = Entry.wordOrUnstated(Drive.values(), Drive::word);
    private static final Entry<Optional<Brakes>> BRAKES = Entry.wordOrUnstated(Brakes.values(), Brakes::word);
    private static final Entry<Integer> CIRCLES = Entry.count(1000);

    private ClaimsReader() {}

    static List<Claim> claims(Table table, Ids machines, Lengths lengths) {
        Ids.listed(TrialFile.CLAIMS, "claim", Optional.of(table));
        Entry<String> knownMachine = machines.known();
        List<Claim> claims = new ArrayList<>();
        for (Row row : table.rows()) {
            var value = row.required("value", lengths.in(Sensible.CLAIM));
            var quantity = row.required("quantity", QUANTITY);
            var machine = row.optional("machine", knownMachine);
            var turn = row.optional("turn", TURN);
            var drive = row.optional("drive", DRIVE);
            var brakes = row.optional("brakes", BRAKES);
            var uncertainty = row.optional("uncertainty", lengths.in(Sensible.UNCERTAINTY));
            var circles = row.optional("circles behind it", CIRCLES);
            if (!row.isFaulty()) {
                claims.add(new Claim(
                        row.text("claim"),
                        row.text("who"),
                        value.orElseThrow(),
                        quantity.orElseThrow(),
                        machine,
                        turn.flatMap(stated -> stated),
                        drive.flatMap(stated -> stated),
                        brakes.flatMap(stated -> stated),
                        uncertainty,
                        circles.map(OptionalInt::of).orElse(OptionalInt.empty()),
                        row.text("remark")));
            }
        }
        return claims;
    }
}
