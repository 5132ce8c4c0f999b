package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.analysis.protocol.Check;
import org.evenwash.logger.store.Json;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.store.SpiritUse;
import org.evenwash.logger.wash.SpiritAccount;
import org.evenwash.logger.wash.Workplace;

/** {@code /spirit}: the batches; {@code /spirit/{id}}: one, with what it is now and whether to change it. */
public final class SpiritPage {
    /** How far below the cautious flash point a warning starts; the bench's own margin. */
    private static final double MARGIN_K = 5;

    private final FrontDesk desk;
    private final Workplace place;
    private final BenchPage benches;

    SpiritPage(FrontDesk desk, Workplace place, BenchPage benches) {
        this.desk = desk;
        this.place = place;
        this.benches = benches;
    }

    public record Row(SpiritBatch batch, int washes) {}

    public record View(List<Row> batches) {}

    /** One reason to change the spirit, or to be careful. */
    public record Advice(String tone, String shape, String text, String source) {}

    /**
     * @param mixing what it was mixed from, in words; null if nothing is known
     * @param temperature as typed or as the bench reads it; empty without either
     */
    public record BatchView(
            SpiritAccount account,
            String mixing,
            List<Advice> advice,
            Advice heat,
            String temperature,
            Map<UUID, String> people,
            List<Option> operators,
            String today) {}

    void list(Context ctx) {
        Map<UUID, Integer> washes = place.spirit().washes();
        List<Row> rows =
                place.spirit().batches().stream()
                        .map(batch -> new Row(batch, washes.getOrDefault(batch.id(), 0)))
                        .toList();
        Shell page = desk.shell(ctx, desk.texts(ctx).say("spirit.title"), "spirit");
        desk.show(ctx, "spirit", page, new View(rows));
    }

    void show(Context ctx) {
        UUID id = Query.path(ctx, desk.texts(ctx));
        SpiritAccount account = place.spirit().account(id, place.standards().protocol(null));
        Shell page = desk.shell(ctx, account.batch().name(), "spirit");
        Double typed_C = new Query(ctx, page.texts()).optionalNumber("temperature_C", -40, 60);
        Optional<Double> now_C = Optional.ofNullable(typed_C).or(benches::spiritTemperature_C);
        BatchView view =
                new BatchView(
                        account,
                        mixing(account.batch(), page),
                        advice(account, page),
                        heat(account, now_C, page),
                        now_C.map(Formats::plain).orElse(""),
                        Names.of(place),
                        new Options(place, page.texts(), page.formats()).operators(),
                        LocalDate.now(ZoneId.systemDefault()).toString());
        desk.show(ctx, "spiritBatch", page, view);
    }

    private static String mixing(SpiritBatch batch, Shell page) {
        if (batch.mixingJson() == null) {
            return null;
        }
        Mixing mixing = Json.read(batch.mixingJson(), Mixing.class);
        return page.t(
                "spirit.mixing",
                page.formats().amount(mixing.spiritParts()),
                page.formats().number(mixing.label_pctVol(), 1),
                page.formats().amount(mixing.waterParts()));
    }

    /** What {@link SpiritForm} keeps of a mixing. */
    private record Mixing(double label_pctVol, double spiritParts, double waterParts) {}

    private static List<Advice> advice(SpiritAccount account, Shell page) {
        List<Advice> all = new ArrayList<>();
        if (account.batch().discardedOn() != null) {
            String day = page.formats().day(account.batch().discardedOn());
            all.add(new Advice("neutral", "○", page.t("spirit.discarded", day), null));
        }
        if (account.murky()) {
            all.add(new Advice("abnormal", "▲", page.t("spirit.murky"), null));
        }
        account.carryOver()
                .ifPresent(
                        blank ->
                                all.add(
                                        new Advice(
                                                "abnormal",
                                                "▲",
                                                page.t(
                                                        "spirit.carried",
                                                        page.t("wash.mites", blank.mites()),
                                                        page.formats().day(blank.sampledOn())),
                                                null)));
        for (Check check : account.checks()) {
            if (check.outcome() == Check.Outcome.CAUTION || check.outcome() == Check.Outcome.FAIL) {
                String text =
                        page.t(
                                "spirit.check",
                                check.point().title(),
                                check.evidence(),
                                check.asked());
                all.add(new Advice("abnormal", "▲", text, check.source().toString()));
            }
        }
        if (account.washes() >= SpiritAccount.USUAL_WASHES) {
            String text = page.t("spirit.often", account.washes(), SpiritAccount.USUAL_WASHES);
            all.add(new Advice("abnormal", "▲", text, page.t("spirit.often.source")));
        }
        if (all.isEmpty()) {
            all.add(new Advice("normal", "●", page.t("spirit.fine"), null));
        }
        return all;
    }

    /** Caution for today's temperature; null where either figure is missing. */
    private static Advice heat(SpiritAccount account, Optional<Double> now_C, Shell page) {
        Optional<Double> flash_C = account.flashPoint_C();
        if (now_C.isEmpty() || flash_C.isEmpty()) {
            return null;
        }
        String now = page.formats().number(now_C.get(), 1);
        String flash = page.formats().number(flash_C.get(), 1);
        if (now_C.get() >= flash_C.get()) {
            return new Advice("danger", "▲", page.t("spirit.heat.over", now, flash), null);
        }
        if (now_C.get() >= flash_C.get() - MARGIN_K) {
            return new Advice("abnormal", "▲", page.t("spirit.heat.near", now, flash), null);
        }
        return new Advice("neutral", "●", page.t("spirit.heat.below", now, flash), null);
    }

    /** Whether a note can be taken back here; the use for a wash goes with its wash. */
    public static boolean canGo(SpiritUse use) {
        return use.kind() != SpiritUse.Kind.WASH;
    }
}
