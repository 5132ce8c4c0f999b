package org.evenwash.logger.web;

import java.time.LocalDate;
import java.util.Map;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.transfer.DayOrder;
import org.evenwash.logger.transfer.ImportPlan;
import org.evenwash.logger.transfer.Importing;
import org.evenwash.logger.transfer.PlanEdit;
import org.evenwash.logger.transfer.WashField;

/** Reads how a file is to be read: from the form, where every choice stands, or a JSON body of some. */
final class ImportForm {
    private static final int LONGEST = 200;
    private static final Map<String, Character> SEPARATORS =
            Map.of("comma", ',', "semicolon", ';', "tab", '\t');

    private ImportForm() {}

    /** Null where the request says nothing of it. */
    static Character separator(Input in) {
        String word = in.optionalText("separator", LONGEST);
        if (word != null && !SEPARATORS.containsKey(word)) {
            in.mistake("separator", "bad.choice", word, "comma, semicolon, tab");
        }
        return word == null ? null : SEPARATORS.get(word);
    }

    static String separatorWord(char separator) {
        return SEPARATORS.entrySet().stream()
                .filter(entry -> entry.getValue() == separator)
                .map(Map.Entry::getKey)
                .findAny()
                .orElseThrow();
    }

    static ImportPlan read(Input in, Importing.Look look) {
        boolean form = in.yes("form");
        PlanEdit edit = new PlanEdit(look);
        for (WashField field : WashField.values()) {
            String column = in.optionalText("column." + field.key(), LONGEST);
            edit.map(field, column == null && form ? "" : column);
        }
        Boolean comma =
                in.has("decimal") ? in.choice("decimal", Decimal.class) == Decimal.COMMA : null;
        DayOrder order = in.optionalChoice("dayOrder", DayOrder.class);
        LocalDate zero = in.optionalDate("dayZero");
        String apiary = in.optionalText("apiary", Api.LONGEST_NAME);
        String zone = in.has("timeZone") ? in.timeZone("timeZone") : null;
        Hemisphere hemisphere = in.optionalChoice("hemisphere", Hemisphere.class);
        BeeMeasure measure = in.optionalChoice("beeMeasure", BeeMeasure.class);
        Frame frame = in.optionalChoice("frame", Frame.class);
        var agitation = in.optionalChoice("agitationUnit", ImportPlan.AgitationUnit.class);
        var mass = in.optionalChoice("massUnit", ImportPlan.MassUnit.class);
        Boolean keep = (form || in.has("keepOthers")) ? in.yes("keepOthers") : null;
        in.check();
        return edit.numbers(null, comma)
                .days(order, zero)
                .apiary(apiary == null && form ? "" : apiary)
                .place(zone, hemisphere)
                .otherwise(measure, frame)
                .units(agitation, mass)
                .keepOthers(keep)
                .plan();
    }

    enum Decimal {
        POINT,
        COMMA
    }
}
