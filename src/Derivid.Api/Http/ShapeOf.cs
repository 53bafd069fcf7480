using System.Collections.Concurrent;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.Json;

namespace Derivid.Api.Http;

/// <summary>What a wire type looks like in JSON.</summary>
internal static class ShapeOf
{
    private static readonly ConcurrentDictionary<Type, IReadOnlyDictionary<string, Member>> KnownMembers = new();
    private static readonly ConcurrentDictionary<Type, IReadOnlyList<string>> KnownWords = new();

    /// <summary>The properties of a record by their names in JSON, in the order they are declared.</summary>
    public static IReadOnlyDictionary<string, Member> Members(Type type) =>
        KnownMembers.GetOrAdd(type, static t => new OrderedDictionary<string, Member>(
            t.GetProperties(BindingFlags.Public | BindingFlags.Instance)
                .Where(p => p.SetMethod is not null)
                .Select(p => KeyValuePair.Create(JsonNamingPolicy.CamelCase.ConvertName(p.Name), new Member(p))),
            StringComparer.Ordinal));

    /// <summary>The words of an enumeration, as written in JSON.</summary>
    public static IReadOnlyList<string> Words(Type type) =>
        KnownWords.GetOrAdd(type, static t => [.. Enum.GetNames(t).Select(JsonNamingPolicy.CamelCase.ConvertName)]);

    /// <summary>What is said of a property or type by an attribute, looked up once. Missing: null, it has none.</summary>
    /// <typeparam name="T">The attribute.</typeparam>
    public static T? Attribute<T>(MemberInfo? of)
        where T : Attribute =>
        of is null ? null : Attributes<T>.Known.GetOrAdd(of, static member => member.GetCustomAttribute<T>());

    /// <summary>What a list holds. Missing: null, not a list.</summary>
    public static Type? ItemOfList(Type type) =>
        type.IsGenericType && type.GetGenericTypeDefinition() == typeof(IReadOnlyList<>) ? type.GenericTypeArguments[0] : null;

    /// <summary>What an object with free names holds. Missing: null, not such an object.</summary>
    public static Type? ValueOfMap(Type type) =>
        type.IsGenericType && type.GetGenericTypeDefinition() == typeof(IReadOnlyDictionary<,>)
            ? type.GenericTypeArguments[1]
            : null;

    private static class Attributes<T>
        where T : Attribute
    {
        public static readonly ConcurrentDictionary<MemberInfo, T?> Known = new();
    }

    /// <summary>One property of a record.</summary>
    /// <param name="Info">The property.</param>
    public sealed record Member(PropertyInfo Info)
    {
        /// <summary>Whether it must be given.</summary>
        public bool IsRequired { get; } = Info.GetCustomAttribute<RequiredMemberAttribute>() is not null || IsPositional(Info);

        /// <summary>Whether null may stand for "missing".</summary>
        public bool AcceptsNull { get; } = IsNullable(Info);

        // Records of the table are wire types too, and some of them are positional.
        private static bool IsPositional(PropertyInfo info) => !IsNullable(info) && info.DeclaringType!.GetConstructors()
            .Any(constructor => constructor.GetParameters().Any(parameter =>
                parameter.Name == info.Name && parameter.ParameterType == info.PropertyType && !parameter.HasDefaultValue));

        private static bool IsNullable(PropertyInfo info) =>
            new NullabilityInfoContext().Create(info).WriteState == NullabilityState.Nullable;
    }
}
