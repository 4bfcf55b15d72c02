package org.fairturn.cli;

import org.fairturn.units.LengthUnit;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;

/** What {@code --unit} means; each command says for itself what it is the unit of. */
final class UnitOption {
    private UnitOption() {}

    static LengthUnit read(CommandSpec spec, String text) {
        return LengthUnit.named(text)
                .orElseThrow(() -> new ParameterException(
                        spec.commandLine(), "--unit: read \"" + text + "\"; accepted: mm, cm, m, in or ft."));
    }
}
