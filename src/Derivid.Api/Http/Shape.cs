using System.Globalization;
using System.Text.Json;
using Derivid.Api.Access;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;

namespace Derivid.Api.Http;

/// <summary>
/// Checks a JSON document against the wire record it is meant for: names, kinds of value and the bounds its data
/// annotations state, every fault noted with its place. What passes can be deserialised.
/// </summary>
public static class Shape
{
    private const int LongestTextByDefault = 100;

    // Records of the table hold citations and notes; their own rules have the last word.
    private const int LongestTextOfTable = 2000;

    // What answers say of a record beyond the record itself; sent back with it, it is passed over.
    private const string Computed = "computed";

    // RFC 3339: a date and a time with its offset from UTC.
    private static readonly string[] Instants =
        ["yyyy-MM-ddTHH:mm:sszzz", "yyyy-MM-ddTHH:mm:ssZ", "yyyy-MM-ddTHH:mm:ss.FFFFFFFzzz", "yyyy-MM-ddTHH:mm:ss.FFFFFFFZ"];

    /// <summary>Checks one value.</summary>
    /// <param name="value">The value.</param>
    /// <param name="type">The wire type it is meant for.</param>
    /// <param name="place">Where it stands, a JSON Pointer.</param>
    /// <param name="errors">Takes the faults.</param>
    public static void Check(JsonElement value, Type type, string place, FieldErrors errors) =>
        Check(value, type, null, Place.At(place), errors);

    /// <summary>Checks the value of one property.</summary>
    /// <param name="value">The value.</param>
    /// <param name="member">The property of the wire record.</param>
    /// <param name="place">Where it stands.</param>
    /// <param name="errors">Takes the faults.</param>
    internal static void Check(JsonElement value, ShapeOf.Member member, Place place, FieldErrors errors) =>
        Check(value, member.Info.PropertyType, member, place, errors);

    private static void Check(JsonElement value, Type type, ShapeOf.Member? member, Place place, FieldErrors errors)
    {
        type = Nullable.GetUnderlyingType(type) ?? type;
        if (type == typeof(JsonElement))
        {
            return;
        }

        if (type == typeof(string))
        {
            CheckText(value, member, place, errors);
        }
        else if (type == typeof(double) || type == typeof(decimal) || type == typeof(int))
        {
            CheckNumber(value, type, member, place, errors);
        }
        else if (type == typeof(bool))
        {
            Expect(value.ValueKind is JsonValueKind.True or JsonValueKind.False, value, "true or false", place, errors);
        }
        else if (type == typeof(DateTimeOffset))
        {
            CheckInstant(value, member, place, errors);
        }
        else if (type.IsEnum)
        {
            CheckWord(value, type, place, errors);
        }
        else
        {
            CheckParts(value, ShapeOf.Composed(type), member, place, errors);
        }
    }

    private static void CheckParts(JsonElement value, ShapeOf.Composition shape, ShapeOf.Member? member, Place place, FieldErrors errors)
    {
        if (shape.TextOr is { } either)
        {
            CheckTextOr(value, either, member, place, errors);
        }
        else if (shape.ValueOfMap is { } mapped)
        {
            CheckMap(value, mapped, member, place, errors);
        }
        else if (shape.ItemOfList is { } item)
        {
            CheckList(value, item, member, place, errors);
        }
        else
        {
            CheckObject(value, shape, place, errors);
        }
    }

    private static void CheckText(JsonElement value, ShapeOf.Member? member, Place place, FieldErrors errors)
    {
        if (!Expect(value.ValueKind == JsonValueKind.String, value, "text", place, errors))
        {
            return;
        }

        var bounds = member?.Length;
        var longest = bounds?.MaximumLength
            ?? (member?.Info.DeclaringType?.Assembly == typeof(Parent).Assembly ? LongestTextOfTable : LongestTextByDefault);
        if (TextOf(value) is not { } text)
        {
            errors.Add(place.ToString(), "The text holds an escape that is no character, such as half of a surrogate pair.");
        }
        else if (KeyForm.IsIn(text))
        {
            errors.Add(place.ToString(), StrayKey.Told);
        }
        else if (text.Length > longest)
        {
            errors.Add(place.ToString(), Invariant(
                $"{Text.Quoted(text)} is {text.Length} characters long; at most {longest} are read."));
        }
        else if (text.Length < bounds?.MinimumLength)
        {
            errors.Add(place.ToString(), Invariant($"Holds {text.Length} characters; {bounds.MinimumLength} to {bounds.MaximumLength} are allowed."));
        }
        else if (Text.HasControlCharacter(text))
        {
            errors.Add(place.ToString(), $"{Text.Quoted(text)} holds a control character; plain text is allowed, in one line.");
        }
    }

    private static void CheckInstant(JsonElement value, ShapeOf.Member? member, Place place, FieldErrors errors)
    {
        var before = errors.Count;
        CheckText(value, member, place, errors);
        if (errors.Count == before
            && !(value.TryGetDateTimeOffset(out _) && DateTimeOffset.TryParseExact(
                value.GetString(), Instants, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out _)))
        {
            errors.Add(place.ToString(), $"{Shown(value)} is no date and time of RFC 3339; write it like 2026-10-23T17:00:00+02:00.");
        }
    }

    private static void CheckNumber(JsonElement value, Type type, ShapeOf.Member? member, Place place, FieldErrors errors)
    {
        if (!Expect(value.ValueKind == JsonValueKind.Number, value, "a number", place, errors))
        {
            return;
        }

        var isRead = value.TryGetDouble(out var number) && double.IsFinite(number)
            && (type != typeof(decimal) || value.TryGetDecimal(out _));
        if (type == typeof(int) && !(isRead && value.TryGetInt32(out _)))
        {
            errors.Add(place.ToString(), $"{Shown(value)} is not allowed; a whole number{Bounds()} is.");
        }
        else if (!isRead || member?.Holds(number) == false)
        {
            errors.Add(place.ToString(), $"{Shown(value)} is out of bounds; a number{Bounds()} is allowed.");
        }

        string Bounds() => member?.Range is { } range ? Invariant($" from {range.Minimum} to {range.Maximum}") : "";
    }

    private static void CheckWord(JsonElement value, Type type, Place place, FieldErrors errors)
    {
        var words = ShapeOf.Words(type);
        if (value.ValueKind == JsonValueKind.String && TextOf(value) is { } text && words.Contains(text))
        {
            return;
        }

        var allowed = "one of " + string.Join(", ", words);
        if (Expect(value.ValueKind == JsonValueKind.String, value, allowed, place, errors))
        {
            errors.Add(place.ToString(), $"{Shown(value)} is not allowed; {allowed} is.");
        }
    }

    private static void CheckTextOr(
        JsonElement value, TextOrAttribute either, ShapeOf.Member? member, Place place, FieldErrors errors)
    {
        if (value.ValueKind == JsonValueKind.Object)
        {
            var before = errors.Count;
            CheckObject(value, ShapeOf.Composed(either.ObjectType), place, errors);
            if (errors.Count == before)
            {
                CheckEither(value, either, place, errors);
            }
        }
        else if (Expect(value.ValueKind == JsonValueKind.String, value, "text or an object", place, errors))
        {
            CheckText(value, member, place, errors);
        }
    }

    private static void CheckEither(JsonElement value, TextOrAttribute either, Place place, FieldErrors errors)
    {
        var given = value.EnumerateObject().Where(property => property.Value.ValueKind != JsonValueKind.Null).Select(property => property.Name).ToHashSet();
        if (!given.Contains(either.Text))
        {
            foreach (var name in either.Needed.Except(given))
            {
                errors.Add(place.Property(name).ToString(), "Missing; it is needed here.");
            }
        }
        else if (given.Count > 1)
        {
            errors.Add(place.ToString(), $"Holds {string.Join(", ", given)}; {either.Text} alone is allowed, or {string.Join(" and ", either.Needed)}.");
        }
    }

    private static void CheckList(JsonElement value, Type item, ShapeOf.Member? member, Place place, FieldErrors errors)
    {
        if (!Expect(value.ValueKind == JsonValueKind.Array, value, "a list in [ ]", place, errors)
            || !IsCountAllowed(value.GetArrayLength(), member, place, errors))
        {
            return;
        }

        var index = 0;
        foreach (var element in value.EnumerateArray())
        {
            Check(element, item, null, place.Item(index++), errors);
        }
    }

    private static void CheckMap(JsonElement value, Type mapped, ShapeOf.Member? member, Place place, FieldErrors errors)
    {
        if (!Expect(value.ValueKind == JsonValueKind.Object, value, "an object in { }", place, errors)
            || !IsCountAllowed(value.GetPropertyCount(), member, place, errors))
        {
            return;
        }

        foreach (var property in value.EnumerateObject())
        {
            if (NameOf(property) is { } name)
            {
                Check(property.Value, mapped, null, place.Property(name), errors);
            }
            else
            {
                errors.Add(place.ToString(), "A name holds an escape that is no character.");
            }
        }
    }

    private static void CheckObject(JsonElement value, ShapeOf.Composition shape, Place place, FieldErrors errors)
    {
        if (!Expect(value.ValueKind == JsonValueKind.Object, value, "an object in { }", place, errors))
        {
            return;
        }

        foreach (var property in value.EnumerateObject())
        {
            var name = NameOf(property) ?? "?";
            if (name == Computed && IsRecordOfTable(shape.Type))
            {
                continue;
            }

            if (shape.Members.GetValueOrDefault(name) is not { } member)
            {
                errors.Add(
                    place.Property(name).ToString(),
                    $"{Text.Quoted(name)} is not known here; allowed: {string.Join(", ", shape.Members.Keys)}.");
            }
            else if (property.Value.ValueKind != JsonValueKind.Null || !member.AcceptsNull)
            {
                Check(property.Value, member, place.Property(name), errors);
            }
        }

        foreach (var name in shape.Required)
        {
            if (!value.TryGetProperty(name, out _))
            {
                errors.Add(place.Property(name).ToString(), "Missing; it is needed here.");
            }
        }
    }

    private static bool IsRecordOfTable(Type type) => TableLayout.Standard.Kinds.Any(kind => kind.RecordType == type);

    private static bool IsCountAllowed(int count, ShapeOf.Member? member, Place place, FieldErrors errors)
    {
        var most = member?.Most ?? int.MaxValue;
        var least = member?.Least ?? 0;
        if (count >= least && count <= most)
        {
            return true;
        }

        errors.Add(place.ToString(), Invariant($"Holds {count} entries; {least} to {most} are allowed."));
        return false;
    }

    private static bool Expect(bool holds, JsonElement value, string wanted, Place place, FieldErrors errors)
    {
        if (!holds)
        {
            errors.Add(place.ToString(), $"{Shown(value)} is {KindOf(value)}; {wanted} is wanted.");
        }

        return holds;
    }

    private static string Shown(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.String => TextOf(value) is { } text ? Text.Quoted(text) : "The text",
        JsonValueKind.Object => "{…}",
        JsonValueKind.Array => "[…]",
        _ => Text.Shortened(value.GetRawText()),
    };

    private static string KindOf(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.String => "text",
        JsonValueKind.Number => "a number",
        JsonValueKind.Object => "an object",
        JsonValueKind.Array => "a list",
        JsonValueKind.Null => "no value",
        _ => "a truth value",
    };

    // Null: an escape stands for half of a surrogate pair only.
    private static string? TextOf(JsonElement value)
    {
        try
        {
            return value.GetString();
        }
        catch (InvalidOperationException)
        {
            return null;
        }
    }

    /// <summary>A member's name. Missing: null, it holds an escape that is no character.</summary>
    /// <param name="property">The member.</param>
    internal static string? NameOf(JsonProperty property)
    {
        try
        {
            return property.Name;
        }
        catch (InvalidOperationException)
        {
            return null;
        }
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
