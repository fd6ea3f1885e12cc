package bare;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.File;
import javax.sql.DataSource;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.context.annotation.Bean;

/** A Spring Boot application with the same libraries on its class path and the same database, that does nothing. */
@SpringBootApplication
public class Bare {

    public static void main(String[] args) {
        SpringApplication.run(Bare.class, args);
    }

    @Bean(destroyMethod = "close")
    EmbeddedPostgres server() throws Exception {
        return EmbeddedPostgres.builder()
                .setDataDirectory(new File(System.getProperty("bare.home"), "data"))
                .setOverrideWorkingDirectory(new File(System.getProperty("bare.home"), "binaries"))
                .setCleanDataDirectory(false)
                .setServerConfig("fsync", "on")
                .setServerConfig("synchronous_commit", "on")
                .start();
    }

    @Bean
    DataSource dataSource(EmbeddedPostgres server) {
        return server.getPostgresDatabase();
    }
}
