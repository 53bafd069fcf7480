using System.Collections.Concurrent;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.Json;
using Derivid.Contracts;

namespace Derivid.Api.Http;

/// <summary>What a wire type looks like in JSON.</summary>
internal static class ShapeOf
{
    private static readonly ConcurrentDictionary<Type, Composition> KnownCompositions = new();
    private static readonly ConcurrentDictionary<Type, IReadOnlyList<string>> KnownWords = new();

    /// <summary>The properties of a record by their names in JSON, in the order they are declared.</summary>
    public static IReadOnlyDictionary<string, Member> Members(Type type) => Composed(type).Members;

    /// <summary>What a type that is no single value is made of, looked up once.</summary>
    public static Composition Composed(Type type) => KnownCompositions.GetOrAdd(type, static t => new Composition(t));

    /// <summary>The words of an enumeration, as written in JSON.</summary>
    public static IReadOnlyList<string> Words(Type type) =>
        KnownWords.GetOrAdd(type, static t => [.. Enum.GetNames(t).Select(JsonNamingPolicy.CamelCase.ConvertName)]);

    /// <summary>What a type is made of.</summary>
    /// <param name="type">The type.</param>
    public sealed class Composition(Type type)
    {
        private readonly OrderedDictionary<string, Member> _members = MembersOf(type);
        private string[]? _required;

        /// <summary>The type.</summary>
        public Type Type { get; } = type;

        /// <summary>The object that may stand in the place of a text. Missing: null, no such type.</summary>
        public TextOrAttribute? TextOr { get; } = type.GetCustomAttribute<TextOrAttribute>();

        /// <summary>What a list holds. Missing: null, not a list.</summary>
        public Type? ItemOfList { get; } = ArgumentOf(type, typeof(IReadOnlyList<>), 0);

        /// <summary>What an object with free names holds. Missing: null, not such an object.</summary>
        public Type? ValueOfMap { get; } = ArgumentOf(type, typeof(IReadOnlyDictionary<,>), 1);

        /// <summary>The properties of a record by their names in JSON, in the order they are declared.</summary>
        public IReadOnlyDictionary<string, Member> Members => _members;

        /// <summary>Names of those that must be given.</summary>
        public string[] Required => _required ??= [.. _members.Where(member => member.Value.IsRequired).Select(member => member.Key)];

        private static Type? ArgumentOf(Type type, Type generic, int place) =>
            type.IsGenericType && type.GetGenericTypeDefinition() == generic ? type.GenericTypeArguments[place] : null;

        private static OrderedDictionary<string, Member> MembersOf(Type type) => new(
            type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
                .Where(p => p.SetMethod is not null)
                .Select(p => KeyValuePair.Create(JsonNamingPolicy.CamelCase.ConvertName(p.Name), new Member(p))),
            StringComparer.Ordinal);
    }

    /// <summary>One property of a record.</summary>
    /// <param name="Info">The property.</param>
    public sealed record Member(PropertyInfo Info)
    {
        /// <summary>Whether it must be given.</summary>
        public bool IsRequired { get; } = Info.GetCustomAttribute<RequiredMemberAttribute>() is not null || IsPositional(Info);

        /// <summary>Whether null may stand for "missing".</summary>
        public bool AcceptsNull { get; } = IsNullable(Info);

        /// <summary>Bounds of a text's length. Missing: null, none are stated.</summary>
        public StringLengthAttribute? Length { get; } = Info.GetCustomAttribute<StringLengthAttribute>();

        /// <summary>Bounds of a number, closed. Missing: null, none are stated.</summary>
        public RangeAttribute? Range { get; } = Info.GetCustomAttribute<RangeAttribute>();

        /// <summary>Most entries of a list or map. Missing: null, no bound is stated.</summary>
        public int? Most { get; } = Info.GetCustomAttribute<MaxLengthAttribute>()?.Length;

        /// <summary>Fewest entries of a list or map. Missing: null, no bound is stated.</summary>
        public int? Least { get; } = Info.GetCustomAttribute<MinLengthAttribute>()?.Length;

        private readonly (double Lowest, double Highest) _bounds = BoundsOf(Info);

        /// <summary>Whether a number is within the bounds.</summary>
        public bool Holds(double number) => number >= _bounds.Lowest && number <= _bounds.Highest;

        private static (double Lowest, double Highest) BoundsOf(PropertyInfo info) =>
            info.GetCustomAttribute<RangeAttribute>() is { } range
                ? (Convert.ToDouble(range.Minimum, CultureInfo.InvariantCulture), Convert.ToDouble(range.Maximum, CultureInfo.InvariantCulture))
                : (double.NegativeInfinity, double.PositiveInfinity);

        // Records of the table are wire types too, and some of them are positional.
        private static bool IsPositional(PropertyInfo info) => !IsNullable(info) && info.DeclaringType!.GetConstructors()
            .Any(constructor => constructor.GetParameters().Any(parameter =>
                parameter.Name == info.Name && parameter.ParameterType == info.PropertyType && !parameter.HasDefaultValue));

        private static bool IsNullable(PropertyInfo info) =>
            new NullabilityInfoContext().Create(info).WriteState == NullabilityState.Nullable;
    }
}
