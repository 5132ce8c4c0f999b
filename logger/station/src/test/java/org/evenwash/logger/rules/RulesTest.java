package org.evenwash.logger.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.evenwash.analysis.protocol.Check;
import org.evenwash.analysis.protocol.Check.Outcome;
import org.evenwash.analysis.protocol.Point;
import org.evenwash.analysis.protocol.Protocol;
import org.evenwash.analysis.protocol.Rule;
import org.evenwash.analysis.protocol.WashFacts;
import org.evenwash.analysis.spirit.Spirit;
import org.evenwash.analysis.spirit.Strength;
import org.evenwash.analysis.threshold.Threshold;
import org.evenwash.analysis.threshold.Threshold.Unit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class RulesTest {
    @TempDir Path folder;

    private Path file(String name, String... lines) throws IOException {
        return Files.write(folder.resolve(name), List.of(lines));
    }

    /**
     * COLOSS BEEBOOK 2013, sections 4.2.3.1.1 and 4.2.3.1.2.3, as quoted in the file. They give no
     * volume, bout pattern, soak or recount, so none is asked.
     */
    @Test
    void beebookAsksWhatItsSectionsSay() {
        Protocol beebook = Rules.shippedProtocols().get("coloss-beebook-2013");
        assertThat(beebook.rules())
                .extracting(rule -> rule.point().key() + ": " + rule.limit().words(rule.point()))
                .containsExactlyInAnyOrder(
                        "bees: at least 300 bees",
                        "bees_counted: yes",
                        "origin: brood-nest or brood-box",
                        "queen_check: yes",
                        "liquid: ethanol or soapy-water",
                        "strength_percentVol: at least 75 %vol",
                        "bees_covered: yes",
                        "agitation_s: at least 20 s",
                        "bee_sieve_mm: 3 to 4 mm",
                        "mite_sieve_mm: at most 0.5 mm",
                        "jar_walls_checked: yes",
                        "rinses: at least 1 rinse",
                        "first_count: yes",
                        "measure_calibrated: yes",
                        "recovery_determined: yes");
        assertThat(beebook.rules())
                .allSatisfy(
                        rule -> {
                            assertThat(rule.source().citation()).contains("Dietemann");
                            assertThat(rule.source().edition()).isEqualTo("2013");
                            assertThat(rule.source().address()).startsWith("coloss.org/");
                        });
    }

    /**
     * The guide: about 300 from half a cup, 75 % spirit, 125 mL, three washes of the same bees. It
     * says neither how long to agitate nor to count the bees.
     */
    @Test
    void victoriaAsksWhatItsGuideSays() {
        Protocol guide = Rules.shippedProtocols().get("agriculture-victoria");
        assertThat(guide.rules())
                .extracting(rule -> rule.point().key() + ": " + rule.limit().words(rule.point()))
                .containsExactlyInAnyOrder(
                        "bees: at least 300 bees",
                        "origin: brood-nest",
                        "frames: at least 3 frames",
                        "queen_check: yes",
                        "liquid: rubbing-alcohol or methylated-spirit",
                        "strength_percentVol: at least 75 %vol",
                        "liquid_mL: at least 125 mL",
                        "washes: at least 3 washes");
    }

    /** The BEEBOOK's worked example: 13 mites, 303 bees, counted afterwards. */
    @Test
    void theBeebookExamplePassesTheBeebook() {
        Strength seventyFive = Strength.ofPercentVol(Spirit.ETHANOL, 75);
        WashFacts facts =
                WashFacts.builder()
                        .beesCounted(303)
                        .origin(Point.Origin.BROOD_BOX)
                        .queenCheck(true)
                        .measureCalibrated(30)
                        .liquid(Point.Liquid.ETHANOL)
                        .strength(seventyFive, seventyFive, "label")
                        .beesCovered(true)
                        .agitationByHand_s(20)
                        .beeSieve_mm(3.5)
                        .miteSieve_mm(0.4)
                        .jarWallsChecked(true)
                        .rinses(1)
                        .firstCount(13)
                        .recoveryDetermined(100)
                        .build();
        List<Check> checks = Rules.shippedProtocols().get("coloss-beebook-2013").check(facts);
        assertThat(checks).hasSize(15).allMatch(check -> check.outcome() == Outcome.PASS);
        List<Check> elsewhere = Rules.shippedProtocols().get("agriculture-victoria").check(facts);
        assertThat(elsewhere)
                .filteredOn(check -> check.outcome() == Outcome.FAIL)
                .extracting(Check::point)
                .containsExactly(Point.ORIGIN);
    }

    /** Nothing from memory ships: exactly these, each with the address where it was read. */
    @Test
    void shippedThresholdsKeepTheirUnits() {
        Map<String, Threshold> thresholds = Rules.shippedThresholds();
        assertThat(thresholds.values())
                .extracting(t -> t.id() + " " + t.value() + " " + t.unit())
                .containsExactly(
                        "nbu-colony 1000.0 PER_COLONY",
                        "nbu-fall 9.0 FALL_PER_DAY",
                        "nsw-dormant 3.0 PER_300_BEES",
                        "university-of-florida 3.0 PER_100_BEES",
                        "usda-tucson 3.0 PER_100_BEES",
                        "usda-tucson-fall 30.0 FALL_PER_DAY");
        assertThat(thresholds.values())
                .allSatisfy(t -> assertThat(t.source().address()).isNotEmpty());
        assertThat(thresholds.get("nsw-dormant").per100Bees()).hasValue(1);
    }

    @Test
    void anOwnProtocolOverridesPointByPoint() throws Exception {
        Path mine =
                file(
                        "mine.yaml",
                        "protocol: mine",
                        "name: Our yard",
                        "edition: \"2\"",
                        "based_on: coloss-beebook-2013",
                        "sources:",
                        "  own: {citation: Own rule, edition: \"2\"}",
                        "points:",
                        "  agitation_s: {least: 60, severity: fail, source: own}",
                        "  soak_s: {most: 300, severity: caution, source: own, note: murky}");
        Protocol merged = Rules.ownProtocol(mine);
        assertThat(merged.rules()).hasSize(16);
        Rule agitation = merged.rule(Point.AGITATION_S).orElseThrow();
        assertThat(agitation.limit().words(Point.AGITATION_S)).isEqualTo("at least 60 s");
        assertThat(agitation.source().citation()).isEqualTo("Own rule");
        assertThat(merged.rule(Point.SOAK_S).orElseThrow().note()).isEqualTo("murky");
        assertThat(merged.rule(Point.BEES).orElseThrow().source().edition()).isEqualTo("2013");
    }

    @Test
    void allMistakesComeAtOnceWithFileLineKeyValueAndWhatWasExpected() throws Exception {
        Path broken =
                file(
                        "broken.yaml",
                        "protocol: mine",
                        "edition: \"2\"",
                        "based_on: nonesuch",
                        "sources:",
                        "  own: {citation: Own rule}",
                        "points:",
                        "  bees: {least: three hundred, severity: fail, source: own}",
                        "  agitation: {least: 60, severity: fail, source: own}",
                        "  soak_s: {severity: awful, source: own}",
                        "  queen_check: {required: maybe, severity: fail, source: other}",
                        "  origin: {one_of: [attic], severity: fail, source: own}",
                        "  bee_sieve_mm: {least: 4, most: 3, severity: fail, source: own}",
                        "colour: blue");
        RuleFileException refused =
                catchThrowableOfType(RuleFileException.class, () -> Rules.ownProtocol(broken));
        assertThat(refused.mistakes())
                .extracting(Mistake::toString)
                .contains(
                        "broken.yaml, line 1: name is missing; expected a title for people",
                        "broken.yaml, line 3: based_on is \"nonesuch\"; expected one of"
                                + " [coloss-beebook-2013, agriculture-victoria]",
                        "broken.yaml, line 5: sources.own.edition is missing; expected a year or"
                                + " version",
                        "broken.yaml, line 7: points.bees.least is \"three hundred\"; expected a"
                                + " number of bees, such as 300 or 0.5",
                        "broken.yaml, line 9: points.soak_s.severity is \"awful\"; expected one of"
                                + " [fail, caution]",
                        "broken.yaml, line 10: points.queen_check.required is \"maybe\"; expected"
                                + " one of [yes]",
                        "broken.yaml, line 12: points.bee_sieve_mm.least is \"4\"; expected no more"
                                + " than most, which is 3.0");
        assertThat(refused.getMessage())
                .contains(
                        "line 8: points.agitation is \"keys and values\"; expected one of the keys")
                .contains("line 11: points.origin.one_of is \"attic\"; expected one of [brood-nest")
                .contains("line 13: colour is \"blue\"; expected one of the keys");
    }

    @Test
    void aFileThatIsNoYamlIsOneMistake() throws Exception {
        Path broken = file("broken.yaml", "protocol: mine", "  name: [");
        assertThatThrownBy(() -> Rules.ownProtocol(broken))
                .isInstanceOf(RuleFileException.class)
                .hasMessageStartingWith("broken.yaml, line 2: expected YAML: ");
        Path empty = file("empty.yaml", "");
        assertThatThrownBy(() -> Rules.ownProtocol(empty))
                .hasMessageContaining("keys and values, as in the shipped files");
        Path twice = file("twice.yaml", "protocol: a", "protocol: b");
        assertThatThrownBy(() -> Rules.ownProtocol(twice)).hasMessageContaining("each key once");
        assertThatThrownBy(() -> Rules.ownProtocol(folder.resolve("absent.yaml")))
                .isInstanceOf(UncheckedIOException.class)
                .hasMessageContaining("absent.yaml");
    }

    @Test
    void ownThresholdsAreReadAndChecked() throws Exception {
        Path good =
                file(
                        "good.yaml",
                        "thresholds:",
                        "  spring:",
                        "    value: 2.5",
                        "    unit: per_300_bees",
                        "    region: our yard",
                        "    source: {citation: Own rule, edition: \"1\"}");
        Threshold spring = Rules.ownThresholds(good).get("spring");
        assertThat(spring.unit()).isEqualTo(Unit.PER_300_BEES);
        assertThat(spring.value()).isEqualTo(2.5);
        Path bad =
                file("bad.yaml", "thresholds:", "  spring: {value: -1, unit: percent, source: me}");
        assertThatThrownBy(() -> Rules.ownThresholds(bad))
                .hasMessageContaining(
                        "thresholds.spring.value is \"-1\"; expected a number above 0")
                .hasMessageContaining("thresholds.spring.unit is \"percent\"; expected one of")
                .hasMessageContaining("thresholds.spring.region is missing")
                .hasMessageContaining("thresholds.spring.source is \"me\"; expected citation");
    }
}
