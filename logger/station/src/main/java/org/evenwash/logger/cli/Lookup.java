package org.evenwash.logger.cli;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Workplace;

/** Finds what a person names on the command line. */
final class Lookup {
    /** Named in a message; more would hide it. */
    private static final int MOST_NAMES = 20;

    private final Workplace place;

    Lookup(Workplace place) {
        this.place = place;
    }

    UUID id(String text) {
        try {
            return UUID.fromString(text);
        } catch (IllegalArgumentException e) {
            throw new BadInput(
                    "'"
                            + text
                            + "' is no id; copy it from the address of the page, or give the colony and"
                            + " the day");
        }
    }

    static LocalDate day(String text) {
        try {
            return LocalDate.parse(text);
        } catch (DateTimeParseException e) {
            throw new BadInput("'" + text + "' is no day; write it like 2031-05-18");
        }
    }

    private static boolean isId(String text) {
        return text.matches("[0-9a-fA-F]{8}(-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}");
    }

    /** By name or id; a name that several apiaries have needs the id. */
    UUID colony(String name) {
        if (isId(name)) {
            return UUID.fromString(name);
        }
        List<Colony> named = living().filter(one -> one.name().equals(name)).toList();
        if (named.isEmpty()) {
            throw new BadInput("no living colony is called '" + name + "'; there are: " + names());
        }
        if (named.size() > 1) {
            throw new BadInput(
                    named.size()
                            + " colonies are called '"
                            + name
                            + "'; give the id of one: "
                            + named.stream()
                                    .map(
                                            one ->
                                                    one.id()
                                                            + " in "
                                                            + place.yard()
                                                                    .apiary(one.apiaryId())
                                                                    .name())
                                    .collect(Collectors.joining(", ")));
        }
        return named.get(0).id();
    }

    private Stream<Colony> living() {
        return place.yard().apiaries().stream()
                .flatMap(apiary -> place.yard().colonies(apiary.id()).stream());
    }

    private String names() {
        return living().map(Colony::name)
                .distinct()
                .limit(MOST_NAMES)
                .collect(Collectors.joining(", "));
    }

    UUID apiary(String name) {
        if (isId(name)) {
            return UUID.fromString(name);
        }
        return place.yard().apiaries().stream()
                .filter(one -> one.name().equals(name))
                .map(Apiary::id)
                .findFirst()
                .orElseThrow(
                        () ->
                                new BadInput(
                                        "no apiary is called '"
                                                + name
                                                + "'; there are: "
                                                + place.yard().apiaries().stream()
                                                        .map(Apiary::name)
                                                        .collect(Collectors.joining(", "))));
    }

    /** The wash of a colony on a day; where there are several, the page has their ids. */
    UUID wash(String colony, String day) {
        LocalDate on = day(day);
        List<WashLine> lines =
                place.washes()
                        .list(new WashFilter(null, colony(colony), on, on), Page.first(Page.MOST))
                        .rows();
        if (lines.size() == 1) {
            return lines.get(0).id();
        }
        throw new BadInput(
                lines.isEmpty()
                        ? colony + " was not washed on " + on
                        : colony
                                + " was washed "
                                + lines.size()
                                + " times on "
                                + on
                                + "; give the id of one: "
                                + lines.stream()
                                        .map(one -> one.id().toString())
                                        .collect(Collectors.joining(", ")));
    }

    /** @param name null for nobody */
    By operator(String name) {
        if (name == null) {
            return By.nobody();
        }
        return place.yard().operators().stream()
                .filter(one -> one.name().equals(name))
                .map(Operator::id)
                .findFirst()
                .map(By::operator)
                .orElseThrow(
                        () ->
                                new BadInput(
                                        "nobody is called '"
                                                + name
                                                + "'; there are: "
                                                + place.yard().operators().stream()
                                                        .map(Operator::name)
                                                        .collect(Collectors.joining(", "))));
    }
}
