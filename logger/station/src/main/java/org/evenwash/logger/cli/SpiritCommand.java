package org.evenwash.logger.cli;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.evenwash.analysis.spirit.ClosedCase;
import org.evenwash.analysis.spirit.Dilution;
import org.evenwash.analysis.spirit.FlashPoint;
import org.evenwash.analysis.spirit.Hydrometer;
import org.evenwash.analysis.spirit.Spirit;
import org.evenwash.analysis.spirit.SpiritBatch;
import org.evenwash.analysis.spirit.Strength;
import org.evenwash.logger.chart.FlashPointChart;
import org.evenwash.logger.chart.Scale;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

@Command(
        name = "spirit",
        header = "Strength, flash point and uses of spirit.",
        description = {
            "How strong a mixture of spirit and water is, from which temperature its vapour can be lit,",
            "and, with a FILE of uses, what becomes of a batch. The cautious value always wins."
        })
final class SpiritCommand extends Analysis {
    private static final List<Column> COLUMNS =
            List.of(
                    Column.required("event", "wash, top-up or evaporation"),
                    Column.required("volume_mL", "millilitres that left or were added"),
                    Column.optional("percent_vol", "strength of a top-up; needed in its row"));
    private static final String ALWAYS =
            "Spirit vapour is heavier than air and burns. Keep flames and sparks away and the jar closed,"
                    + " work in moving air; a value from a formula is no protection.";
    private static final String MOST_CAUTIOUS =
            "No flash point below 100 °C by the model; that is no promise that it cannot burn.";

    @Mixin private CsvInput input;

    @Option(
            names = "--spirit",
            paramLabel = "ethanol|2-propanol",
            defaultValue = "ethanol",
            converter = SpiritName.class,
            description =
                    "Kind of spirit; ${DEFAULT-VALUE} unless given. Methylated spirit counts as ethanol.")
    private Spirit kind;

    @Option(
            names = "--percent-vol",
            paramLabel = "P",
            description = "Strength on the label, %%vol.")
    private Double percentVol;

    @Option(names = "--percent-mass", paramLabel = "P", description = "Strength, %% by mass.")
    private Double percentMass;

    @Option(
            names = "--hydrometer",
            paramLabel = "P",
            description =
                    "Reading of an alcoholometer in %%vol (20 °C scale); needs --temperature.")
    private Double hydrometer;

    @Option(
            names = "--temperature",
            paramLabel = "C",
            description = "Temperature of the spirit at the reading, °C.")
    private Double temperature_C;

    @Option(names = "--spirit-parts", paramLabel = "V", description = "Spirit to mix: mL or parts.")
    private Double spiritParts;

    @Option(names = "--water-parts", paramLabel = "V", description = "Water to mix: mL or parts.")
    private Double waterParts;

    @Option(
            names = "--wanted",
            paramLabel = "P",
            description = "Strength to thin down to, %%vol; tells the water it takes.")
    private Double wanted;

    @Option(
            names = "--day",
            paramLabel = "C",
            description =
                    "Warmest temperature expected at the bench, °C; warns where it is too warm.")
    private Double day_C;

    @Option(
            names = "--case",
            paramLabel = "LITRES",
            description =
                    "Free volume of a closed case; tells how little spirit makes it explosive.")
    private Double case_L;

    @Option(
            names = "--batch",
            paramLabel = "ML",
            description = "Volume a batch began with; needs FILE.")
    private Double batch_mL;

    @Override
    List<Column> columns() {
        return COLUMNS;
    }

    @Override
    List<String> examples() {
        return List.of(
                "spirit --percent-vol 95 --spirit-parts 1 --water-parts 1 --day 24",
                "spirit --percent-vol 95 --wanted 70 --case 40 --chart flash-point.png",
                "spirit --hydrometer 72 --temperature 27",
                "spirit --example > spirit.csv",
                "spirit spirit.csv --percent-vol 70 --batch 400 --chart batch.png");
    }

    @Override
    Report report() {
        Strength label = label();
        Report report = new Report(name());
        report.json("spirit", kind.word());
        report.line("Spirit", kind.word());
        strength(report, "label", hydrometer == null ? "As given" : "Corrected to 20 °C", label);
        Strength used = label;
        if (spiritParts != null || waterParts != null) {
            used = mixed(report, label);
        }
        if (wanted != null) {
            used = thinned(report, label);
        }
        List<FlashPointChart.Mark> marks = new ArrayList<>();
        if (input.given() || batch_mL != null) {
            SpiritBatch batch = batch(report, used);
            used = batch.strongest();
            double low = batch.weakest().percentVol();
            double high = batch.strongest().percentVol();
            String range = Decimals.fixed(1, low) + " to " + Decimals.fixed(1, high) + " %vol";
            marks.add(mark(range, batch.weakest()));
            marks.add(mark("", batch.strongest()));
        } else {
            marks.add(mark(Decimals.fixed(1, used.percentVol()) + " %vol", used));
        }
        Optional<FlashPoint> flash = FlashPoint.of(used);
        flash(report, flash);
        if (day_C != null) {
            day(report, flash);
        }
        if (case_L != null) {
            closedCase(report);
        }
        report.remark(ALWAYS);
        report.chart(
                () ->
                        FlashPointChart.draw(
                                "Flash point of " + kind.word() + " and water",
                                curve(),
                                marks,
                                Optional.ofNullable(day_C)));
        return report;
    }

    private Strength label() {
        long given = Stream.of(percentVol, percentMass, hydrometer).filter(o -> o != null).count();
        if (given != 1) {
            throw wrong("Give the strength once: --percent-vol, --percent-mass or --hydrometer.");
        }
        if (wanted != null && (spiritParts != null || waterParts != null)) {
            throw wrong("Give either --wanted or parts to mix, not both.");
        }
        if ((temperature_C != null) != (hydrometer != null)) {
            throw wrong("--hydrometer and --temperature belong together.");
        }
        if (hydrometer != null) {
            if (kind != Spirit.ETHANOL) {
                throw wrong("An alcoholometer reads ethanol only, not " + kind.word() + ".");
            }
            return Hydrometer.ethanol(hydrometer, temperature_C);
        }
        return percentVol != null
                ? Strength.ofPercentVol(kind, percentVol)
                : Strength.ofPercentMass(kind, percentMass);
    }

    private Strength mixed(Report report, Strength label) {
        if (spiritParts == null || waterParts == null) {
            throw wrong("--spirit-parts and --water-parts belong together.");
        }
        Dilution dilution = Dilution.of(label, spiritParts, waterParts);
        report.json("mixedVolume", dilution.volume_mL());
        report.json("contraction_percent", dilution.contraction_percent());
        report.line(
                "Mixed",
                Decimals.plain(spiritParts)
                        + " of spirit with "
                        + Decimals.plain(waterParts)
                        + " of water fill "
                        + Decimals.fixed(3, dilution.volume_mL())
                        + " ("
                        + Decimals.fixed(1, dilution.contraction_percent())
                        + " % less than their sum)");
        strength(report, "mixture", "Mixture", dilution.mixture());
        return dilution.mixture();
    }

    private Strength thinned(Report report, Strength label) {
        Strength goal = Strength.ofPercentVol(kind, wanted);
        double water = Dilution.water_mLPerSpirit_mL(label, goal);
        report.json("waterPerSpirit", water);
        report.line(
                "To thin to " + Decimals.plain(wanted) + " %vol",
                "add " + Decimals.fixed(0, 1000 * water) + " mL of water to each litre");
        strength(report, "mixture", "Mixture", goal);
        return goal;
    }

    private SpiritBatch batch(Report report, Strength strength) {
        if (!input.given() || batch_mL == null) {
            throw wrong("A FILE of uses and --batch, the volume at the start, belong together.");
        }
        CsvTable table = input.table(COLUMNS);
        List<SpiritBatch> states = new ArrayList<>(List.of(SpiritBatch.fresh(batch_mL, strength)));
        // A batch that runs dry is a mistake of one row, so the rows are told one by one.
        table.read(
                row -> {
                    SpiritBatch.Event event = event(row);
                    if (row.clean()) {
                        states.add(states.get(states.size() - 1).after(event));
                    }
                    return event;
                });
        report.json("input", table.facts());
        TextTable text = new TextTable("after", "left, mL", "weakest, %vol", "strongest, %vol");
        List<Map<String, Object>> json = new ArrayList<>();
        for (int i = 0; i < states.size(); i++) {
            SpiritBatch state = states.get(i);
            text.row(
                    i == 0 ? "start" : "row " + i,
                    Decimals.fixed(0, state.volume_mL()),
                    Decimals.fixed(1, state.weakest().percentVol()),
                    Decimals.fixed(1, state.strongest().percentVol()));
            Map<String, Object> one = new LinkedHashMap<>();
            one.put("volume_mL", state.volume_mL());
            one.put("weakest_percentVol", state.weakest().percentVol());
            one.put("strongest_percentVol", state.strongest().percentVol());
            one.put("uses", state.uses());
            json.add(one);
        }
        report.json("batch", json);
        report.blank().table(text).blank();
        SpiritBatch last = states.get(states.size() - 1);
        report.line("Uses so far", String.valueOf(last.uses()));
        report.remark(
                "Judge the washing by the weakest account (all that evaporated was spirit), the fire by the"
                        + " strongest (none of it was). Water that wet bees bring in is not counted.");
        return last;
    }

    private SpiritBatch.Event event(CsvRow row) {
        double volume_mL = row.between("volume_mL", 0, 1e6, "millilitres from 0");
        return switch (row.text("event")) {
            case "wash" -> new SpiritBatch.Wash(volume_mL);
            case "evaporation" -> new SpiritBatch.Evaporation(volume_mL);
            case "top-up" -> topUp(row, volume_mL);
            default -> {
                row.wrong("event", "wash, top-up or evaporation");
                yield new SpiritBatch.Wash(0);
            }
        };
    }

    private SpiritBatch.Event topUp(CsvRow row, double volume_mL) {
        if (!row.has("percent_vol")) {
            row.wrongRow("a top-up needs its strength in the column percent_vol");
            return new SpiritBatch.Wash(0);
        }
        double strength = row.between("percent_vol", 0, 100, "0 to 100");
        return new SpiritBatch.TopUp(volume_mL, Strength.ofPercentVol(kind, strength));
    }

    private static void strength(Report report, String key, String label, Strength strength) {
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("percentVol", strength.percentVol());
        json.put("percentMass", strength.percentMass());
        json.put("density20_kgm3", strength.density20_kgm3());
        report.json(key, json);
        report.line(
                label,
                Decimals.fixed(1, strength.percentVol())
                        + " %vol, "
                        + Decimals.fixed(1, strength.percentMass())
                        + " % by mass, "
                        + Decimals.fixed(1, strength.density20_kgm3())
                        + " kg/m³ at 20 °C");
    }

    private void flash(Report report, Optional<FlashPoint> flash) {
        if (flash.isEmpty()) {
            report.remark(MOST_CAUTIOUS);
            report.line("Flash point", "none below 100 °C by the model");
            return;
        }
        FlashPoint f = flash.get();
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("cautious_C", f.cautious_C());
        json.put("model_C", f.model_C());
        f.table_C().ifPresent(table -> json.put("table_C", table));
        report.json("flashPoint", json);
        report.line(
                "Flash point",
                Decimals.fixed(1, Math.floor(10 * f.cautious_C()) / 10)
                        + " °C, the cautious value to act on (model "
                        + Decimals.fixed(1, f.model_C())
                        + " °C"
                        + (f.table_C().isPresent()
                                ? ", printed table "
                                        + Decimals.fixed(1, f.table_C().getAsDouble())
                                        + " °C)"
                                : ", no table)"));
    }

    private void day(Report report, Optional<FlashPoint> flash) {
        boolean tooWarm = flash.filter(f -> day_C >= f.cautious_C()).isPresent();
        report.json("day_C", day_C).json("vapourCanBeLit", tooWarm);
        report.line(
                "At " + Decimals.plain(day_C) + " °C",
                tooWarm
                        ? "▲ its vapour can be lit"
                        : flash.isPresent()
                                ? "● "
                                        + Decimals.fixed(1, flash.get().cautious_C() - day_C)
                                        + " K below the cautious flash point"
                                : "○ not assessed");
    }

    private void closedCase(Report report) {
        double celsius = day_C == null ? 20 : day_C;
        double limit_mL = ClosedCase.toLimit_mL(kind, case_L, celsius);
        double alarm_mL = ClosedCase.toAlarm_mL(kind, case_L, celsius);
        Map<String, Object> json = new LinkedHashMap<>();
        json.put("case_L", case_L);
        json.put("celsius", celsius);
        json.put("toLimit_mL", limit_mL);
        json.put("toAlarm_mL", alarm_mL);
        report.json("closedCase", json);
        report.line(
                "A closed case of " + Decimals.plain(case_L) + " L",
                down(limit_mL)
                        + " mL of neat spirit make it explosive (lower limit "
                        + Decimals.plain(kind.lowerExplosiveLimit_percent())
                        + " % at "
                        + Decimals.plain(celsius)
                        + " °C); "
                        + down(alarm_mL)
                        + " mL bring it to a quarter of that");
    }

    /** Rounded down: less is the cautious side. */
    private static String down(double mL) {
        return Decimals.fixed(2, Math.floor(100 * mL) / 100);
    }

    private static FlashPointChart.Mark mark(String name, Strength strength) {
        return new FlashPointChart.Mark(
                name,
                strength.percentVol(),
                FlashPoint.of(strength).map(FlashPoint::cautious_C).orElse(Double.NaN));
    }

    private List<FlashPointChart.Point> curve() {
        List<FlashPointChart.Point> points = new ArrayList<>();
        for (double percent : Scale.steps(1, 100, 100)) {
            FlashPoint.of(Strength.ofPercentVol(kind, percent))
                    .ifPresent(
                            f ->
                                    points.add(
                                            new FlashPointChart.Point(
                                                    percent, f.model_C(), f.cautious_C())));
        }
        return points;
    }
}
