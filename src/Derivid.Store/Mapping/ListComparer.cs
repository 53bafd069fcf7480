using Microsoft.EntityFrameworkCore.ChangeTracking;

namespace Derivid.Store.Mapping;

/// <summary>Compares lists item by item; they are immutable, so the snapshot is the list itself.</summary>
internal sealed class ListComparer<T>() : ValueComparer<IReadOnlyList<T>>(
    (left, right) => ReferenceEquals(left, right) || (left != null && right != null && left.SequenceEqual(right)),
    list => list.Aggregate(0, (hash, item) => HashCode.Combine(hash, item)));
