package org.evenwash.logger.web;

import java.util.function.Supplier;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.wash.HandlingCheck;

/**
 * What a form says of how a sample was taken and washed. A field that is not in it stays as it was, one
 * that is there and empty is not stated.
 */
final class HandlingForm {
    private HandlingForm() {}

    static Handling read(Input in, Handling before) {
        return new Handling(
                given(
                        in,
                        "frames",
                        before.frames(),
                        () -> in.optionalWholeNumber("frames", 1, HandlingCheck.MOST_FRAMES)),
                given(
                        in,
                        "liquid_mL",
                        before.liquid_mL(),
                        () -> in.optionalNumber("liquid_mL", 1, HandlingCheck.MOST_LIQUID_ML)),
                given(
                        in,
                        "beesCovered",
                        before.beesCovered(),
                        () -> in.optionalYesNo("beesCovered")),
                given(in, "beeSieve_mm", before.beeSieve_mm(), () -> mesh(in, "beeSieve_mm")),
                given(in, "miteSieve_mm", before.miteSieve_mm(), () -> mesh(in, "miteSieve_mm")),
                given(
                        in,
                        "jarWallsChecked",
                        before.jarWallsChecked(),
                        () -> in.optionalYesNo("jarWallsChecked")),
                given(
                        in,
                        "timesWashed",
                        before.timesWashed(),
                        () ->
                                in.optionalWholeNumber(
                                        "timesWashed", 1, HandlingCheck.MOST_TIMES_WASHED)));
    }

    static Double mesh(Input in, String field) {
        return in.optionalNumber(
                field, HandlingCheck.FINEST_MESH_MM, HandlingCheck.COARSEST_MESH_MM);
    }

    private static <T> T given(Input in, String field, T before, Supplier<T> read) {
        return in.mentions(field) ? read.get() : before;
    }
}
