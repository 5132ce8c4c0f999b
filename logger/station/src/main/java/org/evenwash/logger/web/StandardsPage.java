package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.Collection;
import java.util.List;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.wash.Workplace;

/** {@code /standards}: the protocol and the threshold that washes are judged by. */
public final class StandardsPage {
    private final FrontDesk desk;
    private final Workplace place;

    StandardsPage(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    /**
     * What an apiary is judged by now.
     *
     * @param threshold null until one is chosen
     */
    public record InUse(Apiary apiary, Protocol protocol, Threshold threshold) {}

    public record View(
            List<InUse> inUse,
            Collection<Protocol> protocols,
            Collection<Threshold> thresholds,
            List<Option> apiaries,
            List<Option> protocolOptions,
            List<Option> thresholdOptions) {}

    void show(Context ctx) {
        Shell page = desk.shell(ctx, desk.texts(ctx).say("standards.title"), "standards");
        var standards = place.standards();
        List<InUse> inUse =
                place.yard().apiaries().stream()
                        .map(
                                apiary ->
                                        new InUse(
                                                apiary,
                                                standards.protocol(apiary.id()),
                                                standards.threshold(apiary.id()).orElse(null)))
                        .toList();
        List<Option> protocols =
                standards.protocols().values().stream()
                        .map(one -> new Option(one.id(), one.name() + ", " + one.edition()))
                        .toList();
        List<Option> thresholds =
                standards.thresholds().values().stream()
                        .map(one -> new Option(one.id(), words(one, page)))
                        .toList();
        View view =
                new View(
                        inUse,
                        standards.protocols().values(),
                        standards.thresholds().values(),
                        new Options(place, page.texts(), page.formats()).apiaries(),
                        protocols,
                        thresholds);
        desk.show(ctx, "standards", page, view);
    }

    /** Value, unit, phase and region in a line. */
    public static String words(Threshold threshold, Shell page) {
        String value = page.formats().amount(threshold.value()) + " " + threshold.unit().words();
        String phase = threshold.phase().isEmpty() ? "" : ", " + threshold.phase();
        return value + phase + ", " + threshold.region();
    }
}
