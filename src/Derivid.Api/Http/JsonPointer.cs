using System.Globalization;

namespace Derivid.Api.Http;

/// <summary>Places in a JSON document (RFC 6901).</summary>
public static class JsonPointer
{
    /// <summary>The place of a property.</summary>
    /// <param name="parent">The place of the object.</param>
    /// <param name="name">The property's name; a long one is shortened.</param>
    public static string Property(string parent, string name) =>
        parent + "/" + Text.Shortened(name)
            .Replace("~", "~0", StringComparison.Ordinal)
            .Replace("/", "~1", StringComparison.Ordinal);

    /// <summary>The place of an element of an array.</summary>
    /// <param name="parent">The place of the array.</param>
    /// <param name="index">From 0.</param>
    public static string Item(string parent, int index) =>
        parent + "/" + index.ToString(CultureInfo.InvariantCulture);
}
