//! As much of JSON Schema 2020-12 as the schemas of this program use; an unknown keyword fails, so
//! that nothing passes because it was not looked at.

use serde_json::Value;

/// Holds `value` against `schema`; the first breach, with its path.
pub(crate) fn validate(schema: &Value, value: &Value, path: &str) -> Result<(), String> {
    for (keyword, rule) in schema.as_object().ok_or("a schema that is no object")? {
        keyword_holds(schema, keyword, rule, value, path)
            .map_err(|why| if why.contains("at ") { why } else { format!("{why} at {path}") })?;
    }
    Ok(())
}

fn keyword_holds(
    schema: &Value,
    keyword: &str,
    rule: &Value,
    value: &Value,
    path: &str,
) -> Result<(), String> {
    let number = value.as_f64();
    let bound = rule.as_f64().unwrap_or(f64::NAN);
    let count = |count: usize| count as f64;
    let text = value.as_str().map(|text| count(text.chars().count()));
    let items = value.as_array().map(|items| count(items.len()));
    let holds = match keyword {
        "$schema" | "title" | "description" | "default" | "examples" => true,
        "type" => match rule.as_str().unwrap() {
            "object" => value.is_object(),
            "array" => value.is_array(),
            "string" => value.is_string(),
            "number" => value.is_number(),
            "integer" => value.is_i64() || value.is_u64(),
            "boolean" => value.is_boolean(),
            other => return Err(format!("a type {other} that this check does not know")),
        },
        "minimum" => number.is_none_or(|number| number >= bound),
        "maximum" => number.is_none_or(|number| number <= bound),
        "exclusiveMinimum" => number.is_none_or(|number| number > bound),
        "minLength" => text.is_none_or(|length| length >= bound),
        "maxLength" => text.is_none_or(|length| length <= bound),
        "minItems" => items.is_none_or(|length| length >= bound),
        "maxItems" => items.is_none_or(|length| length <= bound),
        "enum" => rule.as_array().unwrap().contains(value),
        // The one pattern in use: words of lower-case letters and digits, joined by hyphens.
        "pattern" => {
            assert_eq!(rule, "^[a-z0-9]([a-z0-9-]*[a-z0-9])?$");
            value.as_str().is_none_or(|text| {
                text.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
                    && !text.is_empty()
                    && !text.starts_with('-')
                    && !text.ends_with('-')
            })
        }
        "required" => rule
            .as_array()
            .unwrap()
            .iter()
            .all(|key| value.is_object() && value.get(key.as_str().unwrap()).is_some()),
        "anyOf" => rule.as_array().unwrap().iter().any(|one| validate(one, value, path).is_ok()),
        "allOf" => {
            rule.as_array().unwrap().iter().try_for_each(|one| validate(one, value, path))?;
            true
        }
        "items" => {
            for (index, item) in value.as_array().into_iter().flatten().enumerate() {
                validate(rule, item, &format!("{path}[{}]", index + 1))?;
            }
            true
        }
        "prefixItems" => {
            let pairs = value.as_array().into_iter().flatten().zip(rule.as_array().unwrap());
            for (index, (item, rule)) in pairs.enumerate() {
                validate(rule, item, &format!("{path}[{}]", index + 1))?;
            }
            true
        }
        "properties" => {
            for (key, item) in value.as_object().into_iter().flatten() {
                if let Some(rule) = rule.get(key) {
                    validate(rule, item, &format!("{path}.{key}"))?;
                }
            }
            true
        }
        "additionalProperties" => {
            assert_eq!(rule, false);
            let known = schema["properties"].as_object().unwrap();
            for key in value.as_object().into_iter().flatten().map(|(key, _)| key) {
                if !known.contains_key(key) {
                    return Err(format!("a key {key} that is not in the schema"));
                }
            }
            true
        }
        other => return Err(format!("a keyword {other} that this check does not know")),
    };
    if holds { Ok(()) } else { Err(format!("{keyword} {rule} does not hold for {value}")) }
}
