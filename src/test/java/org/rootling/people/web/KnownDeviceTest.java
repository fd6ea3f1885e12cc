package org.rootling.people.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.Mockito.mock;
import static org.mockito.Mockito.when;

import jakarta.servlet.http.Cookie;
import java.io.IOException;
import java.io.UncheckedIOException;
import org.junit.jupiter.api.Test;
import org.rootling.platform.Vault;
import org.rootling.support.AppTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.mock.web.MockHttpServletResponse;

/** A browser has guesses of its own once, however its cookie is spelt, and nobody is kept out for want of a key. */
@AppTest
class KnownDeviceTest {

    private static final String EMAIL = "nell@example.org";

    @Test
    void allSpellingsOfACookieAreOneBrowser(@Autowired KnownDevice devices) {
        MockHttpServletResponse response = new MockHttpServletResponse();
        devices.remember(new MockHttpServletRequest(), response, EMAIL);
        Cookie cookie = response.getCookie("rootling-known");
        assertThat(cookie).isNotNull();
        String value = cookie.getValue();
        String known = devices.name(with(value), EMAIL);
        assertThat(known).startsWith("device ");
        // 28 bytes leave 4 bits of the last letter unused; decoders look past them.
        String letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
        int last = letters.indexOf(value.charAt(value.length() - 1));
        for (int spelt = last / 16 * 16; spelt < last / 16 * 16 + 16; spelt++) {
            String other = value.substring(0, value.length() - 1) + letters.charAt(spelt);
            assertThat(devices.name(with(other), EMAIL)).isEqualTo(known);
            assertThat(devices.name(with(other + "=="), EMAIL)).isEqualTo(known);
        }
        assertThat(devices.name(with("not ours"), EMAIL)).isEqualTo(EMAIL);
    }

    @Test
    void withoutAKeyPeopleStillSignIn() {
        Vault keyless = mock(Vault.class);
        UncheckedIOException unreadable = new UncheckedIOException(new IOException("read-only"));
        when(keyless.lock(any(), any())).thenThrow(unreadable);
        when(keyless.open(any(), any())).thenThrow(unreadable);
        KnownDevice devices = new KnownDevice(keyless);
        MockHttpServletResponse response = new MockHttpServletResponse();
        devices.remember(with("AAAA"), response, EMAIL);
        assertThat(response.getCookies()).isEmpty();
        assertThat(devices.name(with("AAAA"), EMAIL)).isEqualTo(EMAIL);
    }

    private static MockHttpServletRequest with(String known) {
        MockHttpServletRequest request = new MockHttpServletRequest();
        request.setCookies(new Cookie("rootling-known", known));
        return request;
    }
}
