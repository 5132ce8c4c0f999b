package org.evenwash.logger.rules;

import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.protocol.Source;
import org.evenwash.logger.rules.YamlNodes.Fields;

/** A source as it stands in rule files. */
final class SourceFields {
    private SourceFields() {}

    static Optional<Source> read(Fields fields) {
        fields.allow(List.of("citation", "edition", "address"));
        Optional<String> citation = fields.word("citation", "the work, or \"own rule\"");
        Optional<String> edition = fields.word("edition", "a year or version");
        String address =
                fields.has("address")
                        ? fields.word("address", "where it can be read").orElse("")
                        : "";
        return citation.isPresent() && edition.isPresent()
                ? Optional.of(new Source(citation.get(), edition.get(), address))
                : Optional.empty();
    }
}
