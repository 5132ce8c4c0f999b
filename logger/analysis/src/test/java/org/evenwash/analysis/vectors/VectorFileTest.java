package org.evenwash.analysis.vectors;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The check of vectors is strict: what it cannot compute or compare fails. */
class VectorFileTest {

    private static final String GOOD =
            "{'id':'A','kind':'poisson_rate','inputs':{'m':2,'n':200},'expected':{'est':1},'tol_rel':1e-8}";

    @Test
    void goodCase_passes() throws JsonProcessingException {
        assertThat(failures(GOOD)).isEmpty();
    }

    @Test
    void emptyFile_fails() throws JsonProcessingException {
        assertThat(failures("")).containsExactly("the file has no cases");
        assertThat(VectorFile.run(new ObjectMapper().readTree("{}")).failures()).hasSize(1);
        assertThat(VectorFile.run(new ObjectMapper().readTree("")).failures()).hasSize(1);
    }

    @Test
    void unknownKind_fails() throws JsonProcessingException {
        assertThat(failures(GOOD.replace("poisson_rate", "guess")))
                .containsExactly("A: [unknown kind guess]");
    }

    @Test
    void missingKey_fails() throws JsonProcessingException {
        for (String key : List.of("id", "kind", "inputs", "expected", "tol_rel")) {
            assertThat(failures(GOOD.replace("'" + key + "'", "'other'"))).hasSize(1);
        }
        assertThat(failures(GOOD.replace("'est':1", ""))).containsExactly("A: [expects nothing]");
    }

    @Test
    void missingInput_orFieldWeDoNotCompute_fails() throws JsonProcessingException {
        assertThat(failures(GOOD.replace("'n'", "'bees'")))
                .singleElement()
                .asString()
                .contains("n");
        assertThat(failures(GOOD.replace("'est'", "'guess'")))
                .containsExactly("A: [guess was not computed]");
    }

    @Test
    void wrongValue_fails() throws JsonProcessingException {
        assertThat(failures(GOOD.replace("'est':1", "'est':1.0000001"))).hasSize(1);
        assertThat(failures(GOOD.replace("'est':1", "'est':null"))).hasSize(1);
        assertThat(failures(GOOD.replace("'est':1", "'est':'Infinity'"))).hasSize(1);
    }

    private static List<String> failures(String oneCase) throws JsonProcessingException {
        String file = "{'cases':[" + oneCase + "]}";
        return VectorFile.run(new ObjectMapper().readTree(file.replace('\'', '"'))).failures();
    }
}
