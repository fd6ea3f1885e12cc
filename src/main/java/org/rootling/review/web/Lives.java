package org.rootling.review.web;

import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;
import org.rootling.review.calc.LifeTable;
import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonParser.NumberType;
import tools.jackson.core.JsonToken;
import tools.jackson.databind.DeserializationContext;
import tools.jackson.databind.ValueDeserializer;
import tools.jackson.databind.annotation.JsonDeserialize;

/** Lives as they come in, summed while they are read: a million of them take no more room than their sums. */
@JsonDeserialize(using = Lives.Reader.class)
final class Lives {

    static final int MOST_LIVES = 2_000_000;
    static final int MOST_GROUPS = 100;
    static final int MOST_DAYS = 36_525;
    private static final int LONGEST_NAME = 100;

    private final Map<String, LifeTable> groups = new LinkedHashMap<>();
    private int count;
    private @Nullable Refused fault;

    /** The sums by group, in the order the groups first appear; throws the first fault met while reading. */
    Map<String, LifeTable> groups() {
        if (fault != null) {
            throw fault;
        }
        if (groups.isEmpty()) {
            throw new Refused("review.api.no-lives").at("lives");
        }
        return groups;
    }

    private void read(JsonParser json) {
        if (json.currentToken() != JsonToken.START_ARRAY) {
            json.skipChildren();
            fault = new Refused("review.api.no-lives").at("lives");
            return;
        }
        while (json.nextToken() != JsonToken.END_ARRAY) {
            if (fault == null && json.currentToken() == JsonToken.START_OBJECT) {
                life(json);
            } else {
                refuse("review.api.not-a-life", "");
                json.skipChildren();
            }
        }
    }

    private void life(JsonParser json) {
        String group = null;
        Integer days = null;
        Boolean died = null;
        while (json.nextToken() != JsonToken.END_OBJECT) {
            String name = json.currentName();
            JsonToken value = json.nextToken();
            switch (name) {
                case "group" ->
                    group = value == JsonToken.VALUE_STRING ? json.getString().strip() : null;
                case "days" ->
                    days = value == JsonToken.VALUE_NUMBER_INT && json.getNumberType() == NumberType.INT
                            ? json.getIntValue()
                            : null;
                case "died" ->
                    died = value == JsonToken.VALUE_TRUE
                            ? Boolean.TRUE
                            : value == JsonToken.VALUE_FALSE ? Boolean.FALSE : null;
                default -> {}
            }
            json.skipChildren();
        }
        if (group == null || group.isEmpty() || group.length() > LONGEST_NAME) {
            refuse("review.api.no-group-name", ".group");
        } else if (days == null || days < 0 || days > MOST_DAYS) {
            refuse("review.api.no-days", ".days");
        } else if (died == null) {
            refuse("review.api.no-died", ".died");
        } else if (count == MOST_LIVES) {
            fault = new Refused("review.api.too-many-lives", MOST_LIVES).at("lives");
        } else if (!groups.containsKey(group) && groups.size() == MOST_GROUPS) {
            fault = new Refused("review.api.too-many-groups", MOST_GROUPS).at("lives");
        } else {
            groups.computeIfAbsent(group, g -> new LifeTable()).add(days, died, 1);
            count++;
        }
    }

    private void refuse(String key, String part) {
        if (fault == null) {
            fault = new Refused(key, MOST_DAYS).at("lives[" + count + "]" + part);
        }
    }

    static final class Reader extends ValueDeserializer<Lives> {
        @Override
        public Lives deserialize(JsonParser json, DeserializationContext context) {
            Lives lives = new Lives();
            lives.read(json);
            return lives;
        }
    }
}
