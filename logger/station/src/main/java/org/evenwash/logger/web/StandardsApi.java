package org.evenwash.logger.web;

import static org.evenwash.logger.web.Route.get;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.protocol.Rule;
import org.evenwash.logger.rules.Mistake;
import org.evenwash.logger.wash.Standards;
import org.evenwash.logger.wash.Workplace;

/** The part of the HTTP interface that tells what washes can be judged by. */
final class StandardsApi {
    private final Workplace place;

    StandardsApi(Workplace place) {
        this.place = place;
    }

    List<Route> routes() {
        return List.of(get("/api/standards", Access.OPERATOR, this::onOffer));
    }

    private void onOffer(Context ctx) {
        Standards standards = place.standards();
        Map<String, Object> document = new LinkedHashMap<>();
        document.put(
                "protocols",
                standards.protocols().values().stream().map(StandardsApi::document).toList());
        document.put("thresholds", standards.thresholds().values());
        document.put("mistakes", standards.mistakes().stream().map(Mistake::toString).toList());
        document.put("choices", standards.history());
        ctx.json(document);
    }

    private static Map<String, Object> document(Protocol protocol) {
        return Map.of(
                "id",
                protocol.id(),
                "name",
                protocol.name(),
                "edition",
                protocol.edition(),
                "points",
                protocol.rules().stream().map(StandardsApi::document).toList());
    }

    private static Map<String, Object> document(Rule rule) {
        return Map.of(
                "point",
                rule.point().key(),
                "asked",
                rule.limit().words(rule.point()),
                "severity",
                rule.severity(),
                "source",
                rule.source().toString());
    }
}
