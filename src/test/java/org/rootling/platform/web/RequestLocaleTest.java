package org.rootling.platform.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Locale;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.mock.web.MockHttpServletRequest;

/** What a browser may ask for is endless; what words are kept for is not. */
class RequestLocaleTest {

    @ParameterizedTest
    @CsvSource({
        "en-GB, en-GB",
        "en-US, en-US",
        "de-CH, de-CH",
        "de-CH-1996, de-CH",
        "fr, fr",
        "fr-SN, fr",
        "en-x-some-thing, en",
        "de-Latn-AT-u-nu-arab, de-AT",
        "it-CH, en"
    })
    void speaksAFewLanguagesInAFewCountries(String asked, String spoken) {
        MockHttpServletRequest request = new MockHttpServletRequest();
        request.addPreferredLocale(Locale.forLanguageTag(asked));
        assertThat(new RequestLocale().resolveLocale(request)).isEqualTo(Locale.forLanguageTag(spoken));
    }
}
