package org.evenwash.logger.web;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.RecipeVersion;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Position;

/** The choices that forms offer. */
final class Options {
    private static final int WASHES_TO_TIE = 100;

    private final Workplace place;
    private final Texts texts;
    private final Formats formats;

    Options(Workplace place, Texts texts, Formats formats) {
        this.place = place;
        this.texts = texts;
        this.formats = formats;
    }

    /** Every value of an enum but those that mean that nothing was said. */
    <E extends Enum<E>> List<Option> each(Class<E> type) {
        return Arrays.stream(type.getEnumConstants())
                .filter(one -> !one.name().equals("NOT_STATED"))
                .map(one -> new Option(one.name(), texts.say(one)))
                .toList();
    }

    List<Option> yesNo() {
        return List.of(
                new Option("true", texts.say("answer.true")),
                new Option("false", texts.say("answer.false")));
    }

    List<Option> operators() {
        return place.yard().operators().stream()
                .filter(Operator::active)
                .map(one -> new Option(one.id().toString(), one.name()))
                .toList();
    }

    List<Option> apiaries() {
        return place.yard().apiaries().stream()
                .map(one -> new Option(one.id().toString(), one.name()))
                .toList();
    }

    /** Living colonies, apiary by apiary. */
    List<Option> colonies() {
        return place.yard().apiaries().stream()
                .flatMap(apiary -> coloniesOf(apiary).stream())
                .toList();
    }

    private List<Option> coloniesOf(Apiary apiary) {
        return place.yard().colonies(apiary.id()).stream()
                .map(one -> new Option(one.id().toString(), one.name() + ", " + apiary.name()))
                .toList();
    }

    List<Option> benches() {
        return place.benches().benches().stream()
                .map(one -> new Option(one.id(), one.name()))
                .toList();
    }

    List<Option> recipes() {
        return place.recipes().current().stream().map(this::recipe).toList();
    }

    /** Older and retired versions too: washes were made by them. */
    List<Option> allRecipes() {
        return place.recipes().all().stream().map(this::recipe).toList();
    }

    private Option recipe(RecipeVersion recipe) {
        String value = recipe.sheet().recipeId() + ":" + recipe.sheet().version();
        String label =
                texts.say(
                        "bench.recipe.says",
                        recipe.sheet().name(),
                        recipe.sheet().version(),
                        formats.clock(recipe.sheet().totalAgitation_s()));
        return new Option(value, label);
    }

    List<Option> positions() {
        return IntStream.rangeClosed(1, Position.MOST)
                .mapToObj(one -> new Option(String.valueOf(one), texts.say("bench.position", one)))
                .toList();
    }

    List<Option> spirits() {
        return place.spirit().batches().stream()
                .filter(batch -> batch.discardedOn() == null)
                .map(batch -> new Option(batch.id().toString(), batch.name()))
                .toList();
    }

    /** The latest washes, to tie a cycle to. */
    List<Option> washes() {
        return place.washes().list(WashFilter.ALL, Page.first(WASHES_TO_TIE)).rows().stream()
                .map(this::wash)
                .toList();
    }

    private Option wash(WashLine line) {
        return new Option(
                line.id().toString(), line.colony() + ", " + formats.day(line.sampledOn()));
    }

    /** The only choice there is, or nothing where a person has to choose. */
    static String only(List<Option> options) {
        return options.size() == 1 ? options.get(0).value() : "";
    }
}
