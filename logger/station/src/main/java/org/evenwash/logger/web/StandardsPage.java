package org.evenwash.logger.web;

import io.javalin.http.Context;
import io.javalin.http.NotFoundResponse;
import java.nio.file.Path;
import java.util.Collection;
import java.util.List;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.logger.rules.Mistake;
import org.evenwash.logger.rules.Rules;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.wash.Standards;
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
     * @param filesDiffer whether a file reads otherwise now than when it was chosen
     */
    public record InUse(
            Apiary apiary, Protocol protocol, Threshold threshold, boolean filesDiffer) {}

    /**
     * @param mistakes in the keeper's own rule files
     * @param folder of those files, null where there is none
     * @param files shipped, to be copied from
     */
    public record OwnFiles(List<Mistake> mistakes, String folder, List<String> files) {}

    public record View(
            OwnFiles own,
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
                place.yard().apiaries().stream().map(apiary -> inUse(apiary, standards)).toList();
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
                        new OwnFiles(
                                standards.mistakes(),
                                standards.rulesFolder().map(Path::toString).orElse(null),
                                Rules.shippedFiles()),
                        inUse,
                        standards.protocols().values(),
                        standards.thresholds().values(),
                        new Options(place, page.texts(), page.formats()).apiaries(),
                        protocols,
                        thresholds);
        desk.show(ctx, "standards", page, view);
    }

    private static InUse inUse(Apiary apiary, Standards standards) {
        Protocol protocol = standards.protocol(apiary.id());
        Threshold threshold = standards.threshold(apiary.id()).orElse(null);
        boolean differ =
                standards.differsFromFile(protocol)
                        || (threshold != null && standards.differsFromFile(threshold));
        return new InUse(apiary, protocol, threshold, differ);
    }

    /** A shipped rule file, to be copied from. */
    void file(Context ctx) {
        String name = ctx.pathParam("name");
        String text = Rules.shippedFile(name).orElseThrow(() -> new NotFoundResponse(name));
        ctx.contentType("text/plain; charset=utf-8");
        ctx.result(text);
    }

    /** Value and unit, for a sentence. */
    public static String limit(Threshold threshold, Shell page) {
        return page.formats().amount(threshold.value()) + " " + threshold.unit().words();
    }

    /** Value, unit, phase and region in a line. */
    public static String words(Threshold threshold, Shell page) {
        String value = limit(threshold, page);
        String phase = threshold.phase().isEmpty() ? "" : ", " + threshold.phase();
        return value + phase + ", " + threshold.region();
    }
}
