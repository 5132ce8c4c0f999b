package org.evenwash.record;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;

class TopicsTest {
    @Test
    void everyTopic_isTakenApartAsItWasBuilt() {
        for (Topics.Kind kind : Topics.Kind.values()) {
            assertThat(Topics.parse(Topics.of("shed-1", kind)))
                    .contains(new Topics.Address("shed-1", kind));
        }
        assertThat(Topics.of("shed-1", Topics.Kind.CYCLE)).isEqualTo("evenwash/v1/shed-1/cycle");
        assertThat(Topics.ofAllBenches(Topics.Kind.LIVE)).isEqualTo("evenwash/v1/+/live");
    }

    @Test
    void strangeTopics_areNotOurs() {
        for (String topic :
                new String[] {
                    "evenwash/v2/a/cycle",
                    "evenwash/v1/a/start",
                    "evenwash/v1/a/cycle/x",
                    "evenwash/v1/A/cycle",
                    "evenwash/v1//cycle",
                    "evenwash/v1/+/cycle",
                    "",
                }) {
            assertThat(Topics.parse(topic)).as(topic).isEmpty();
        }
    }

    @Test
    void benchIdThatCouldReachOtherTopics_isRefused() {
        assertThatThrownBy(() -> Topics.of("a/b", Topics.Kind.CYCLE))
                .isInstanceOf(ContractViolation.class);
    }
}
