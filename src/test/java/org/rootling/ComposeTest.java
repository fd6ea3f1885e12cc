package org.rootling;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.yaml.snakeyaml.Yaml;

/** No engine runs the compose file here, so it is read and checked instead. */
class ComposeTest {

    @SuppressWarnings("unchecked")
    private static Map<String, Map<String, Object>> services() throws IOException {
        Map<String, Object> file = new Yaml().load(Files.readString(Path.of("docker-compose.yml")));
        return (Map<String, Map<String, Object>>) file.get("services");
    }

    @Test
    void runsPostgresTwoEqualNodesAndAProxy() throws IOException {
        assertThat(services().keySet()).containsExactlyInAnyOrder("db", "app1", "app2", "proxy");
        assertThat(services().get("app2")).isEqualTo(services().get("app1"));
        assertThat(services().get("db").get("image")).asString().startsWith("postgres:18.");
        assertThat(Files.readString(Path.of("src/main/docker/Caddyfile"))).contains("app1:8080", "app2:8080");
    }

    @Test
    void onlyTheProxyIsReachableFromOutside() throws IOException {
        services()
                .forEach((name, service) ->
                        assertThat(service.containsKey("ports")).as(name).isEqualTo(name.equals("proxy")));
    }

    @Test
    @SuppressWarnings("unchecked")
    void noPasswordHasADefaultAndTheRolesAreTwo() throws IOException {
        Map<String, String> app = (Map<String, String>) services().get("app1").get("environment");
        assertThat(app.get("SPRING_DATASOURCE_USERNAME")).isNotEqualTo(app.get("SPRING_FLYWAY_USER"));
        for (Map<String, Object> service : services().values()) {
            if (service.get("environment") instanceof Map<?, ?> environment) {
                environment.forEach((key, value) -> {
                    if (key.toString().contains("PASSWORD") || key.toString().contains("CODE")) {
                        assertThat(value.toString()).matches("\\$\\{[A-Z_]+:\\?set it}");
                    }
                });
            }
        }
    }

    @Test
    @SuppressWarnings("unchecked")
    void everyFileItNamesIsThere() throws IOException {
        for (Map<String, Object> service : services().values()) {
            if (service.get("build") instanceof Map<?, ?> build) {
                assertThat(Path.of(build.get("dockerfile").toString())).exists();
            }
            if (service.get("volumes") instanceof List<?> volumes) {
                for (String volume : (List<String>) volumes) {
                    if (volume.startsWith("./")) {
                        assertThat(Path.of(volume.split(":")[0])).exists();
                    }
                }
            }
        }
    }
}
