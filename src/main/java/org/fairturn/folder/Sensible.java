package org.fairturn.folder;

import org.fairturn.units.Length;
import org.fairturn.units.LengthUnit;

/**
 * The sizes each length may have. The limits are our own: wide enough for every compact tractor and mower, narrow enough
 * to catch a wrong unit or a lost decimal point.
 */
enum Sensible {
    UNCUT_CHORD("an uncut chord", "50 mm", "300 m"),
    RISE("a rise", "0.1 mm", "300 m"),
    STAKE_DISTANCE("a distance between stakes", "10 mm", "300 m"),
    WHEELBASE("a wheelbase", "300 mm", "10 m"),
    FRONT_TRACK("a front track", "300 mm", "5 m"),
    DECK_OFFSET("a deck offset", "-1 m", "1 m"),
    TURN_CENTRE_SHIFT("a turn centre shift", "-3 m", "3 m"),
    AHEAD("a distance ahead of the rear axle", "-10 m", "10 m"),
    LEFT("a distance to the left of the centreline", "-3 m", "3 m"),
    TIP_RADIUS("a tip radius", "20 mm", "3 m"),
    PROTRUSION("a protrusion", "0 mm", "300 mm"),
    THREAD_PITCH("a thread pitch", "0.2 mm", "10 mm"),
    ARM("an arm", "5 mm", "1 m"),
    CLAIM("a claimed diameter or radius", "50 mm", "300 m"),
    REFERENCE("a reference diameter or radius", "50 mm", "300 m"),
    UNCERTAINTY("a standard uncertainty", "0 mm", "5 m"),
    EDGE_DEFINITION("an edge definition", "0 mm", "1 m"),
    PRACTICAL_MARGIN("a practical margin", "0.1 mm", "10 m"),
    REPEATABILITY("a repeatability", "0.1 mm", "10 m"),
    COORDINATE("a coordinate", "-20000000 m", "20000000 m");

    private final String name;
    private final String least;
    private final String most;
    private final double leastMetres;
    private final double mostMetres;

    Sensible(String name, String least, String most) {
        this.name = name;
        this.least = least;
        this.most = most;
        this.leastMetres = Length.parse(least, LengthUnit.METRE).orThrow().metres();
        this.mostMetres = Length.parse(most, LengthUnit.METRE).orThrow().metres();
    }

    boolean holds(Length length) {
        return holds(length.metres());
    }

    boolean holds(double metres) {
        return metres >= leastMetres && metres <= mostMetres;
    }

    String accepted() {
        return name + " from " + least + " to " + most;
    }
}
