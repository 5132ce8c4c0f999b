package org.evenwash.logger.transfer;

import java.time.LocalDate;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Hemisphere;
import org.evenwash.logger.wash.Refused;

/** Another plan made of one, choice by choice; null leaves a choice as it is. */
public final class PlanEdit {
    private final List<String> headings;
    private final Map<WashField, Integer> columns = new EnumMap<>(WashField.class);
    private char separator;
    private boolean decimalComma;
    private DayOrder dayOrder;
    private LocalDate dayZero;
    private String apiary;
    private String timeZone;
    private Hemisphere hemisphere;
    private BeeMeasure beeMeasure;
    private Frame frame;
    private ImportPlan.AgitationUnit agitationUnit;
    private ImportPlan.MassUnit massUnit;
    private boolean keepOthers;

    public PlanEdit(Importing.Look look) {
        ImportPlan plan = look.plan();
        headings = look.headings();
        columns.putAll(plan.columns());
        separator = plan.separator();
        decimalComma = plan.decimalComma();
        dayOrder = plan.dayOrder();
        dayZero = plan.dayZero();
        apiary = plan.apiary();
        timeZone = plan.timeZone();
        hemisphere = plan.hemisphere();
        beeMeasure = plan.beeMeasure();
        frame = plan.frame();
        agitationUnit = plan.agitationUnit();
        massUnit = plan.massUnit();
        keepOthers = plan.keepOthers();
    }

    /**
     * Says which column holds a field.
     *
     * @param column its heading, or # and its number from 1; empty for none
     * @throws Refused if the file has no such column, or two of that heading
     */
    public PlanEdit map(WashField field, String column) {
        if (column == null) {
            return this;
        }
        if (column.isEmpty()) {
            columns.remove(field);
        } else {
            columns.put(field, place(field, column));
        }
        return this;
    }

    private int place(WashField field, String column) {
        if (column.matches("#\\d{1,4}")) {
            int place = Integer.parseInt(column.substring(1)) - 1;
            if (place >= 0 && place < headings.size()) {
                return place;
            }
        }
        int place = headings.indexOf(column);
        if (place < 0) {
            throw Refused.invalid(
                    "column " + field.key(),
                    "is called '" + column + "', which the file has not",
                    "choose one of " + String.join(", ", headings));
        }
        if (headings.lastIndexOf(column) != place) {
            throw Refused.invalid(
                    "column " + field.key(),
                    "is called '" + column + "', and two are",
                    "name it by its place, such as #" + (place + 1));
        }
        return place;
    }

    public PlanEdit numbers(Character newSeparator, Boolean comma) {
        separator = newSeparator == null ? separator : newSeparator;
        decimalComma = comma == null ? decimalComma : comma;
        return this;
    }

    public PlanEdit days(DayOrder order, LocalDate zero) {
        dayOrder = order == null ? dayOrder : order;
        dayZero = zero == null ? dayZero : zero;
        return this;
    }

    /** Of rows whose own column names none; empty for none. */
    public PlanEdit apiary(String name) {
        if (name != null) {
            apiary = name.isBlank() ? null : name.strip();
        }
        return this;
    }

    /** Where apiaries lie that have to be made. */
    public PlanEdit place(String newTimeZone, Hemisphere newHemisphere) {
        timeZone = newTimeZone == null ? timeZone : newTimeZone;
        hemisphere = newHemisphere == null ? hemisphere : newHemisphere;
        return this;
    }

    /** What holds for rows that do not say. */
    public PlanEdit otherwise(BeeMeasure measure, Frame from) {
        beeMeasure = measure == null ? beeMeasure : measure;
        frame = from == null ? frame : from;
        return this;
    }

    public PlanEdit units(ImportPlan.AgitationUnit agitation, ImportPlan.MassUnit mass) {
        agitationUnit = agitation == null ? agitationUnit : agitation;
        massUnit = mass == null ? massUnit : mass;
        return this;
    }

    public PlanEdit keepOthers(Boolean keep) {
        keepOthers = keep == null ? keepOthers : keep;
        return this;
    }

    public ImportPlan plan() {
        return new ImportPlan(
                separator,
                decimalComma,
                dayOrder,
                dayZero,
                columns,
                apiary,
                timeZone,
                hemisphere,
                beeMeasure,
                frame,
                agitationUnit,
                massUnit,
                keepOthers);
    }
}
