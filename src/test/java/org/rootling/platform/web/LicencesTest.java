package org.rootling.platform.web;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import tools.jackson.databind.json.JsonMapper;

/** A bill of materials as the CycloneDX 1.6 specification writes it becomes the list of licences. */
class LicencesTest {

    @Test
    void aLicenceIsKnownByItsIdItsExpressionOrItsName() {
        String bill = """
                {"bomFormat": "CycloneDX", "specVersion": "1.6", "components": [
                  {"group": "org.b", "name": "two", "version": "2", "licenses": [{"expression": "MIT OR Apache-2.0"}]},
                  {"group": "org.a", "name": "one", "version": "1", "licenses": [{"license": {"id": "BSD-2-Clause"}},
                     {"license": {"name": "Our Own"}}]},
                  {"name": "three", "version": "3"}]}""";
        assertThat(Licences.parts(JsonMapper.builder().build().readTree(bill)))
                .containsExactly(
                        new Licences.Part("org.a : one", "1", "BSD-2-Clause / Our Own"),
                        new Licences.Part("org.b : two", "2", "MIT OR Apache-2.0"),
                        new Licences.Part("three", "3", "?"));
    }
}
