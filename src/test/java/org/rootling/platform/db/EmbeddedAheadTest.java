package org.rootling.platform.db;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.rootling.support.AppTest;
import org.springframework.beans.factory.BeanCreationException;
import org.springframework.beans.factory.NoSuchBeanDefinitionException;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.support.GenericApplicationContext;
import org.springframework.core.env.MapPropertySource;

/** A server that comes up beside the application goes down with it, and tells it what is wrong. */
@AppTest
class EmbeddedAheadTest {

    @TempDir
    Path home;

    @Test
    void theTestsThatHaveADatabaseStartNone(@Autowired ObjectProvider<EmbeddedAhead.Starting> own) {
        assertThat(own.getIfAvailable()).isNull();
    }

    @Test
    void isStoppedWhenTheApplicationFailsBeforeItAskedForIt() throws Exception {
        GenericApplicationContext context = context(Map.of());
        context.registerBean("unwell", Object.class, () -> {
            throw new IllegalStateException("unwell");
        });
        assertThatThrownBy(context::refresh).isInstanceOf(BeanCreationException.class);
        assertThat(OwnerAccess.embeddedExists(context.getEnvironment())).isTrue();
        assertThat(EmbeddedServer.runningIn(home)).isNull();
    }

    @Test
    void saysThatTheFolderIsInUse() throws Exception {
        try (EmbeddedServer other = EmbeddedServer.start(home);
                GenericApplicationContext context = context(Map.of())) {
            context.refresh();
            EmbeddedAhead.Starting starting = context.getBean(EmbeddedAhead.Starting.class);
            assertThatThrownBy(starting::server)
                    .isInstanceOf(HomeUnusable.class)
                    .hasMessageContaining("is in use by another running Rootling");
            assertThat(other.owner().getConnection().isValid(5)).isTrue();
        }
    }

    @Test
    void leavesAnExternalDatabaseAlone() {
        GenericApplicationContext context =
                context(Map.of("spring.datasource.url", "jdbc:postgresql://127.0.0.1/other"));
        context.refresh();
        assertThatThrownBy(() -> context.getBean(EmbeddedAhead.Starting.class))
                .isInstanceOf(NoSuchBeanDefinitionException.class);
        context.close();
        assertThat(home).isEmptyDirectory();
    }

    private GenericApplicationContext context(Map<String, Object> settings) {
        GenericApplicationContext context = new GenericApplicationContext();
        context.getEnvironment().getPropertySources().addFirst(new MapPropertySource("settings", settings));
        context.getEnvironment()
                .getPropertySources()
                .addLast(new MapPropertySource("home", Map.of("rootling.home", home.toString())));
        new EmbeddedAhead().initialize(context);
        return context;
    }
}
