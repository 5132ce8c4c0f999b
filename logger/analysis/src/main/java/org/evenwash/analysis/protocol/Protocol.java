package org.evenwash.analysis.protocol;

import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * A named list of points. Where its source is silent it has no point, and nothing is checked.
 *
 * @param id short name used on the command line and in stored results
 * @param edition part of every printed result: a new edition never alters an old verdict
 * @param rules at most one for each point
 */
public record Protocol(String id, String name, String edition, List<Rule> rules) {

    public Protocol {
        if (id.isBlank() || name.isBlank() || edition.isBlank()) {
            throw new IllegalArgumentException("a protocol needs an id, a name and an edition");
        }
        rules = List.copyOf(rules);
        if (byPoint(rules).size() != rules.size()) {
            throw new IllegalArgumentException("protocol " + id + " names a point twice");
        }
    }

    public Optional<Rule> rule(Point point) {
        return rules.stream().filter(rule -> rule.point() == point).findFirst();
    }

    /**
     * A keeper's own protocol on top of this one: each of its points replaces the point here or is
     * added; the others stay with their own sources.
     */
    public Protocol overriddenBy(Protocol own) {
        Map<Point, Rule> merged = byPoint(rules);
        merged.putAll(byPoint(own.rules));
        return new Protocol(
                own.id,
                own.name + ", on top of " + name,
                own.edition + "; " + edition,
                new ArrayList<>(merged.values()));
    }

    /** Every point of this protocol, in the order of the wash. */
    public List<Check> check(WashFacts facts) {
        return byPoint(rules).values().stream()
                .map(rule -> Check.of(rule, facts.fact(rule.point())))
                .toList();
    }

    private static Map<Point, Rule> byPoint(Collection<Rule> rules) {
        Map<Point, Rule> map = new EnumMap<>(Point.class);
        rules.forEach(rule -> map.put(rule.point(), rule));
        return map;
    }
}
