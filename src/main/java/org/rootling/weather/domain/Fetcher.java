package org.rootling.weather.domain;

import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Component;

/**
 * Gets a small text over HTTP: within time, up to a size, without following redirects, only from the hosts that the
 * operator lists ({@code rootling.weather.hosts}; without that setting from any), and not from addresses of the inner
 * network unless the operator allows it.
 */
@Component
class Fetcher {
    static final int MOST_BYTES = 2_000_000;

    private final boolean innerAllowed;
    private final List<String> hosts;
    private final Duration timeout;
    private final HttpClient client;

    /** A fetch that failed, with a message key that says why. */
    static final class Failed extends Exception {
        private static final long serialVersionUID = 1;
        private final String key;

        Failed(String key) {
            super(key);
            this.key = key;
        }

        String key() {
            return key;
        }
    }

    Fetcher(
            @Value("${rootling.weather.inner-addresses:false}") boolean innerAllowed,
            @Value("${rootling.weather.hosts:}") List<String> hosts,
            @Value("${rootling.weather.timeout:10s}") Duration timeout) {
        this.innerAllowed = innerAllowed;
        this.hosts = hosts.stream()
                .map(host -> host.strip().toLowerCase(Locale.ROOT))
                .toList();
        this.timeout = timeout;
        this.client = HttpClient.newBuilder()
                .connectTimeout(timeout)
                .followRedirects(HttpClient.Redirect.NEVER)
                .build();
    }

    /** The body behind an address. */
    String get(String address) throws Failed, InterruptedException {
        URI uri = checked(address);
        HttpRequest request = HttpRequest.newBuilder(uri)
                .timeout(timeout)
                .header("Accept", "application/json")
                .build();
        try {
            HttpResponse<InputStream> response = client.send(request, HttpResponse.BodyHandlers.ofInputStream());
            try (InputStream body = response.body()) {
                if (response.statusCode() != 200) {
                    throw new Failed("weather.fetch.status");
                }
                byte[] bytes = readWithin(body);
                return new String(bytes, StandardCharsets.UTF_8);
            }
        } catch (IOException unreachable) {
            throw new Failed("weather.fetch.unreachable");
        }
    }

    /** Reads to the end, but neither longer than the time nor more than the size allowed. */
    private byte[] readWithin(InputStream body) throws IOException, Failed {
        long end = System.nanoTime() + timeout.toNanos();
        var out = new java.io.ByteArrayOutputStream();
        byte[] chunk = new byte[8192];
        int n;
        while ((n = body.read(chunk)) >= 0) {
            out.write(chunk, 0, n);
            if (out.size() > MOST_BYTES) {
                throw new Failed("weather.fetch.too-large");
            }
            if (System.nanoTime() > end) {
                throw new Failed("weather.fetch.unreachable");
            }
        }
        return out.toByteArray();
    }

    private URI checked(String address) throws Failed {
        try {
            URI uri = URI.create(address);
            String scheme = String.valueOf(uri.getScheme()).toLowerCase(Locale.ROOT);
            if (!(scheme.equals("https") || scheme.equals("http"))
                    || uri.getHost() == null
                    || uri.getUserInfo() != null) {
                throw new Failed("weather.fetch.address");
            }
            if (!hosts.isEmpty() && !hosts.contains(uri.getHost().toLowerCase(Locale.ROOT))) {
                throw new Failed("weather.fetch.not-listed");
            }
            if (!innerAllowed) {
                for (InetAddress ip : InetAddress.getAllByName(uri.getHost())) {
                    if (!OuterAddress.is(ip)) {
                        throw new Failed("weather.fetch.inner");
                    }
                }
            }
            return uri;
        } catch (IllegalArgumentException notAnAddress) {
            throw new Failed("weather.fetch.address");
        } catch (java.net.UnknownHostException unknown) {
            throw new Failed("weather.fetch.unreachable");
        }
    }
}
