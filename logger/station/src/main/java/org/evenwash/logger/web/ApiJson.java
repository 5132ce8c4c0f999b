package org.evenwash.logger.web;

import com.fasterxml.jackson.annotation.JsonUnwrapped;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import org.evenwash.logger.store.Handling;
import org.evenwash.logger.store.Wash;

/** JSON of the HTTP interface: instants and days in ISO form. */
final class ApiJson {
    private ApiJson() {}

    /** A wash reads as it is written: what a sample's form holds stands side by side. */
    interface FlatHandling {
        @JsonUnwrapped
        Handling handling();
    }

    static ObjectMapper mapper() {
        return JsonMapper.builder()
                .addModule(new JavaTimeModule())
                .addMixIn(Wash.class, FlatHandling.class)
                .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
                .build();
    }
}
