package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.OPERATOR;
import static org.evenwash.logger.web.Route.get;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.ResultJson;
import org.evenwash.analysis.operators.ChartReading;
import org.evenwash.analysis.operators.Compared;
import org.evenwash.analysis.operators.OperatorComparison;
import org.evenwash.logger.wash.Consistency;
import org.evenwash.logger.wash.CycleTiming;
import org.evenwash.logger.wash.Workplace;

/** The part of the HTTP interface that tells whether work comes out the same. */
final class ConsistencyApi {
    private final FrontDesk desk;
    private final Workplace place;

    ConsistencyApi(FrontDesk desk, Workplace place) {
        this.desk = desk;
        this.place = place;
    }

    List<Route> routes() {
        return List.of(
                get("/api/consistency/recovery", OPERATOR, this::recovery),
                get("/api/consistency/counting", OPERATOR, this::counting),
                get("/api/consistency/samples", OPERATOR, this::samples),
                get("/api/consistency/cycles", OPERATOR, this::cycles));
    }

    private void recovery(Context ctx) {
        Input in = Input.ofQuery(ctx, desk.texts(ctx));
        StudyForm form = StudyForm.read(in);
        Compared compared = in.choiceOr("compare", Compared.OPERATORS);
        in.check();
        Consistency.Comparison comparison = place.consistency().recovery(form.filter(), compared);
        OperatorComparison found = comparison.found();
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("compared", compared);
        document.put("verdict", found.verdict());
        found.needs().ifPresent(needs -> document.put("needs", needs.needs()));
        document.put("spread", ResultJson.of(found.spread(), Quantity.PLAIN));
        found.test().ifPresent(test -> document.put("permutation", test));
        document.put("seed", comparison.seed());
        document.put("dispersionWithin", found.phiWithin());
        document.put("groups", found.funnel());
        document.put("remarks", found.remarks());
        document.put("withoutALabel", comparison.unnamed());
        document.put("leftOut", comparison.excluded());
        document.put("onlyTheLatest", comparison.cut());
        ctx.json(document);
    }

    private void counting(Context ctx) {
        Input in = Input.ofQuery(ctx, desk.texts(ctx));
        StudyForm form = StudyForm.read(in);
        in.check();
        Consistency.Counting counting = place.consistency().counting(form.filter());
        Map<String, Object> document = new LinkedHashMap<>();
        document.put(
                "repeatability", ResultJson.of(counting.study().repeatability(), Quantity.PLAIN));
        document.put(
                "reproducibility",
                ResultJson.of(counting.study().reproducibility(), Quantity.PLAIN));
        document.put("crossed", ResultJson.of(counting.crossed().gauge(), Quantity.PLAIN));
        document.put("catches", counting.catches());
        document.put("recountsNotBlind", counting.open());
        document.put("counts", counting.counts());
        document.put("chart", chart(counting.reading()));
        ctx.json(document);
    }

    private void samples(Context ctx) {
        Input in = Input.ofQuery(ctx, desk.texts(ctx));
        StudyForm form = StudyForm.read(in);
        in.check();
        Consistency.Samples samples = place.consistency().samples(form.filter());
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("samples", samples.samples());
        document.put("chart", chart(samples.counted()));
        ctx.json(document);
    }

    private void cycles(Context ctx) {
        Input in = Input.ofQuery(ctx, desk.texts(ctx));
        String bench = in.optionalText("benchId", 32);
        in.check();
        CycleTiming timing = place.consistency().cycles(bench);
        Map<String, Object> document = new LinkedHashMap<>();
        document.put("cycles", timing.cycles());
        document.put("conforming", timing.conforming());
        document.put("causes", timing.causes());
        document.put("chart", chart(timing.difference()));
        ctx.json(document);
    }

    /** Limits are left out where there are too few points for any: JSON has no infinity. */
    private static Map<String, Object> chart(ChartReading reading) {
        Map<String, Object> chart = new LinkedHashMap<>();
        chart.put("stage", reading.stage());
        reading.centre()
                .ifPresent(
                        centre -> {
                            chart.put("centre", centre);
                            chart.put("lower", reading.points().get(0).lower());
                            chart.put("upper", reading.points().get(0).upper());
                        });
        chart.put("values", reading.points().stream().map(ChartReading.Point::value).toList());
        chart.put("signals", reading.points().stream().map(ChartReading.Point::signals).toList());
        chart.put("remarks", reading.remarks());
        return chart;
    }
}
